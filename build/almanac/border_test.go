package almanac

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What is said at each line: by the plant health service of Poland (seen), the environment agency of Norway (seen), and from
// memory.
func TestBorders(t *testing.T) {
	a := openEmbedded(t)
	for _, b := range a.borders {
		if strings.ContainsAny(b.EN+b.DE, "'\"") {
			t.Errorf("plain quotes in %q or %q", b.EN, b.DE)
		}
	}
	for _, c := range []struct{ from, to, says, not string }{
		{"DE", "FR", "plant passport", "phytosanitary"},
		{"DE", "CH", "both annexes", "phytosanitary"},
		{"CH", "DE", "plant passport", "annexes"},
		{"US-OH", "DE", "phytosanitary certificate", "plant passport"},
		{"GB-ENG", "IE", "phytosanitary", "scheme label"},
		{"GB-SCT", "GB-NIR", "scheme label", "plant passport"},
		{"IE", "GB-NIR", "plant passport", "scheme label"},
		{"DE", "GB", "Great Britain asks", "plant passport"},
		{"US-OH", "US-FL", "inspection certificate", "import permit"},
		{"GB", "US-OH", "import permit", "state line"},
		{"PR", "US-FL", "inspection certificate", "import permit"},
		{"SE", "NO", "less than 5 °C", "plant passport"},
		{"DE", "AU-NSW", "Assume that it can’t go", "of their own;"},
		{"AU-VIC", "AU-NSW", "New South Wales bars", "Assume"},
		{"ES", "ES-CN", "ask the plant health service at both ends", "plant passport"},
		{"ES-CN", "ES", "phytosanitary", "plant passport"},
		{"JP", "BR", "at both ends", "phytosanitary"},
	} {
		all := ""
		for _, p := range a.Borders(c.from, c.to) {
			all += p.EN + "\n"
		}
		if !strings.Contains(all, c.says) || strings.Contains(all, c.not) {
			t.Errorf("%s to %s: %s", c.from, c.to, all)
		}
	}
	for _, same := range [][2]string{{"DE", "DE"}, {"DE-BY", "DE"}, {"US-OH", "US-OH"}, {"GB-ENG", "GB-SCT"}, {"DE", ""}, {"", "US"}, {"DE", "XX"}} {
		if got := a.Borders(same[0], same[1]); got != nil {
			t.Errorf("%v: %v", same, got)
		}
	}
}

// Over every line the last word is to ask both ends, in both languages, and nothing is called allowed.
func TestEveryBorderIsForTheAuthorities(t *testing.T) {
	a := openEmbedded(t)
	var codes []string
	for x := 'A'; x <= 'Z'; x++ {
		for y := 'A'; y <= 'Z'; y++ {
			for _, code := range []string{string(x) + string(y), "US-" + string(x) + string(y)} {
				if KnownRegion(code) {
					codes = append(codes, code)
				}
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		from, to := rapid.SampledFrom(codes).Draw(t, "from"), rapid.SampledFrom(codes).Draw(t, "to")
		rules := a.Borders(from, to)
		if place(from) == place(to) {
			return
		}
		last := rules[len(rules)-1]
		if !strings.Contains(last.EN, "ask the plant health service at both ends") || !strings.Contains(last.DE, "auf beiden Seiten") {
			t.Fatalf("%s to %s: %v", from, to, rules)
		}
		for _, r := range rules {
			if strings.Contains(r.EN, "allowed") || strings.Contains(r.DE, "erlaubt") {
				t.Fatalf("%s", r.EN)
			}
		}
	})
}

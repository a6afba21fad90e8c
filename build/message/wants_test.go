package message

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/block"
)

var bench = []Offer{
	{"HZ-1101", true, []string{"stargrass", "Heteranthera zosterifolia", "Heteranthera", "Seegras-Trugkölbchen"}},
	{"HZ-1206", false, []string{"stargrass", "Heteranthera zosterifolia", "Heteranthera", "Seegras-Trugkölbchen"}},
	{"LP-0418", true, []string{"java fern", "Leptochilus pteropus", "Leptochilus", "Javafarn"}},
	{"AB-1115", true, []string{"anubias", "Anubias barteri", "Anubias"}},
	{"BC-0901", true, []string{"lemon bacopa", "Bacopa caroliniana", "Bacopa"}},
	{"BM-1019", true, []string{"water hyssop", "Bacopa monnieri", "Bacopa"}},
	{"", false, []string{"water wisteria", "Hygrophila difformis"}},
}

func said(wants []Want) string {
	var out []string
	for _, w := range wants {
		out = append(out, fmt.Sprintf("%s:%d", w.Lot, w.Count))
	}
	return strings.Join(out, " ")
}

// Messages written from memory of how people ask.
func TestPlantsAreAskedForByAnyName(t *testing.T) {
	for text, want := range map[string]string{
		"Could I have 5 of the stargrass and maybe 2 or 3 anubias?":                     "HZ-1101:5 AB-1115:2",
		"is the java fern still going? I'd take it":                                     "LP-0418:0",
		"Ich hätt gern a paar Stängel von dem Seegras-Trugkölbchen":                     "HZ-1101:0",
		"Ich nehme 4 Anubias barteri und 2x Javafarn.":                                  "AB-1115:4 LP-0418:2",
		"Can I get hz 1101 and BM-1019 x3 please":                                       "HZ-1101:0 BM-1019:3",
		"I'd love a java fern and one anubias":                                          "LP-0418:1 AB-1115:1",
		"anubias: 2\njava ferns: 3":                                                     "AB-1115:2 LP-0418:3",
		"einen Javafarn bitte":                                                          "LP-0418:1",
		"I have anubias and java fern already. Nice tanks!":                             "",
		"Would the anubias live in soft water?":                                         "",
		"You sent me 3 anubias in May, they grow.":                                      "",
		"2 bacopa please":                                                               "", // of which kind?
		"I want bananubias, 3 of them":                                                  "",
		"Please send 3 lemon bacopa. My java fern 20 cm tall died.":                     "BC-0901:3",
		"Please send 3 anubias. No, make it 4 anubias.":                                 "AB-1115:0",
		"Please send 3 java ferns (not the anubias!) and no stargrass":                  "LP-0418:3",
		"I'd take anything but anubias, please":                                         "",
		"Anything but AB-1115, which I've killed twice.":                                "",
		"Please send 3 java ferns but no anubias":                                       "LP-0418:3",
		"two stargrass; the tank is 60 x 30 x 36 cm, stargrass would stand at the back": "HZ-1101:2",
	} {
		if got, _ := wantsIn(text, bench); said(got) != want {
			t.Errorf("%q: %q, not %q", text, said(got), want)
		}
	}
	if _, doubts := wantsIn("2 bacopa please", bench); len(doubts) != 1 || strings.Join(doubts[0].Of, " ") != "BC-0901 BM-1019" {
		t.Errorf("a genus that two lots share is not asked about: %v", doubts)
	}
	if _, doubts := wantsIn("3 water wisteria please, and anubias grow here already", bench); len(doubts) != 1 || doubts[0].Why != Gone || !strings.Contains(doubts[0].From, "water wisteria") {
		t.Errorf("a plant of which nothing is left is not named: %v", doubts)
	}
}

// The lot of plain lines is what is meant, whatever the text around them speaks of; a number alone is that of the only plant.
func TestPlainLinesSayWhatIsWanted(t *testing.T) {
	for text, want := range map[string]string{
		"2 anubias\n" + block.Block{Lot: "LP-0418", Count: 3}.String(): "LP-0418:3",
		"2 anubias\n" + block.Block{Region: "GB"}.String():             "AB-1115:2",
		"Is the java fern still going? I'd take 3 please":              "LP-0418:3",
		"LP-0418 please": "LP-0418:0",
	} {
		r, err := Read(text)
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := r.Wants(bench); said(got) != want {
			t.Errorf("%q: %q, not %q", text, said(got), want)
		}
	}
}

// Whatever is asked for by name and number is found; a lot is wanted once; what is not on offer is never wanted.
func TestWantsAreThoseThatWereWritten(t *testing.T) {
	kinds := []struct{ lot, name string }{{"HZ-1101", "stargrass"}, {"LP-0418", "java fern"}, {"AB-1115", "Anubias barteri"}, {"BC-0901", "lemon bacopa"}, {"LP-0418", "Javafarn"}, {"BM-1019", "BM-1019"}, {"", "water sprite"}, {"", "frogbit"}}
	rapid.Check(t, func(t *rapid.T) {
		var parts, want []string
		seen := map[string]bool{}
		for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(kinds)-1), 1, 4, rapid.ID).Draw(t, "kinds") {
			k, n := kinds[i], rapid.IntRange(2, 40).Draw(t, "count")
			if k.lot != "" && seen[k.lot] {
				continue
			}
			seen[k.lot] = true
			parts = append(parts, fmt.Sprintf(rapid.SampledFrom([]string{"%d %s", "%d x %s", "%d of the %s", "%d stems of %s", "%d Stück %s"}).Draw(t, "way"), n, k.name))
			if k.lot != "" {
				want = append(want, fmt.Sprintf("%s:%d", k.lot, n))
			}
		}
		begin := rapid.SampledFrom([]string{"I'd like ", "Please send ", "Ich hätte gern ", "Could you spare "}).Draw(t, "begin")
		text := rapid.SampledFrom([]string{"", "Hi! My tank is 60 x 30 x 36 cm, 24 C. "}).Draw(t, "before") + begin +
			strings.Join(parts, rapid.SampledFrom([]string{" and ", ", ", "\n", " und "}).Draw(t, "between")) + rapid.SampledFrom([]string{".", " please.\nAda", "\nGH 8 dGH"}).Draw(t, "after")
		if got, _ := wantsIn(text, bench); said(got) != strings.Join(want, " ") {
			t.Fatalf("%q: %q, not %q", text, said(got), strings.Join(want, " "))
		}
	})
}

func FuzzWants(f *testing.F) {
	f.Add("2 bacopa or 3 anubias, hz 1101: 4")
	f.Fuzz(func(t *testing.T, text string) {
		wants, _ := wantsIn(text[:min(len(text), fuzzed)], bench)
		seen := map[string]bool{}
		for _, w := range wants {
			if seen[w.Lot] || w.Count < 0 || w.Count > 999 {
				t.Fatalf("%q: %v", text, wants)
			}
			seen[w.Lot] = true
			clean(t, w.From)
		}
	})
}

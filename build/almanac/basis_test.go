package almanac

import (
	"regexp"
	"strings"
	"testing"
)

// What a page shows of a source is the work that is named or the place where it is, in few words: what was found there
// is in the figures.
func TestSourcesAreNamedWithoutNotes(t *testing.T) {
	figures := regexp.MustCompile(`[0-9] ?(%|°C|mm\b|cm\b|umol|g/L)|RGR|abstract|not found`)
	n := 0
	for _, s := range openEmbedded(t).All() {
		for _, c := range s.Sources {
			n++
			if name := c.Named(); name == "" || len(strings.Fields(name)) > 12 || figures.MatchString(name) {
				t.Errorf("%s: %q of %q", s.ID, name, c.Text)
			}
		}
	}
	if n < 150 {
		t.Errorf("%d sources only", n)
	}
	for text, want := range map[string]string{
		"RGR 0.12 per day (Madsen & Morgan 2021, J. Aquat. Plant Manage. 59s:28–32)":                "Madsen & Morgan 2021, J. Aquat. Plant Manage. 59s:28–32",
		"Flora of China vol. 13, stems 3–10 cm, annual":                                             "Flora of China vol. 13",
		"from memory: regional floras":                                                              "from memory: regional floras",
		"from memory: a bicarbonate user with three ways of its own":                                "from memory",
		"min 4, best 22–28 °C (an extension-service text, second-hand)":                             "a published page, second-hand",
		"Thum, Mercer & Wcisel 2011, Biological Invasions, milfoils under wrong names, second-hand": "Thum, Mercer & Wcisel 2011, Biological Invasions, second-hand",
	} {
		if got := (Citation{Text: text}).Named(); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}

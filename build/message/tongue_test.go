package message

import (
	"strings"
	"testing"
)

// The language is that of the writer's own words, whatever else stands in the message.
func TestTheLanguageIsTheWriters(t *testing.T) {
	told := func(text, home string) string {
		r, err := Read(text)
		if err != nil {
			t.Fatal(err)
		}
		r.For(home)
		return r.Block.Language
	}
	all := letters(t)
	german := 0
	for i, l := range all {
		if r, _ := Read(l.text); r.Block.Language != "" {
			continue // it says so itself
		}
		own := told(l.text, "")
		if own == "en" {
			t.Errorf("%s: a journal without a language is in English", l.name)
		}
		if own == "de" {
			german++
			for _, home := range []string{"de", "de-AT", "DE"} {
				if got := told(l.text, home); got != "" {
					t.Errorf("%s: %s for a journal in %s", l.name, got, home)
				}
			}
		}
		other := all[(i+len(all)/2)%len(all)].text
		quoted := "\n> " + strings.ReplaceAll(other, "\n", "\n> ")
		plain := "\n=== slipleaf: my tank ===\nhow: post, please, if it is not too cold for the plants\nlot: the one that you have most of\n=== slipleaf: end ===\n"
		for _, more := range []string{quoted, plain} {
			if got := told(l.text+more, ""); got != own {
				t.Errorf("%s: %q, and with %q: %q", l.name, own, more, got)
			}
		}
	}
	if german < 40 {
		t.Errorf("%d messages are found to be in German", german)
	}
	if got := told("Hello, I would like some of the plants, please. Thanks and regards", "de"); got != "en" {
		t.Errorf("English to a German journal: %q", got)
	}
}

package sharing

import (
	"strings"
	"testing"

	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
	"slipleaf/themes"
)

// Reasons that the words know are said in the page's language; what somebody wrote freely is counted and never shown, since
// it may name a person.
func TestAReasonInOnesOwnWordsIsNotShown(t *testing.T) {
	for lang, want := range map[string]string{"en": "heat (2), algae (1), something else (4)", "de": "Hitze (2), Algen (1), etwas anderes (4)"} {
		w, err := words.Load(themes.Bench(), lang)
		if err != nil {
			t.Fatal(err)
		}
		got := strings.Join(causeWords(words.Locale{Words: w, Units: quantity.Metric}, []ledger.Cause{{Name: "Bo Quark's goldfish", N: 3}, {Name: "heat", N: 2}, {Name: "algae", N: 1}, {Name: "other.x", N: 1}}), ", ")
		if got != want {
			t.Errorf("%s: %q, want %q", lang, got, want)
		}
	}
}

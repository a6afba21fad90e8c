package sharing

import (
	"strings"
	"testing"

	"slipleaf/build/ledger"
	"slipleaf/build/words"
	"slipleaf/themes"
)

// Where no loss was reported, a loss that is reported half as often makes no difference: nothing is guessed from it.
func TestNoGuessFromNoLosses(t *testing.T) {
	for _, lang := range []string{"en", "de"} {
		w, err := words.Load(themes.Bench(), lang)
		if err != nil {
			t.Fatal(err)
		}
		said := func(lost int) string {
			f := ledger.OutcomeCounts{Quiet: true, Least: 0.5, Most: 1, Guess: 0.85}
			f.Settled.Sent, f.Settled.Established, f.Settled.Lost = 8, 4, lost
			return quietSentence(words.Locale{Words: w}, f)
		}
		if s := said(0); !strings.Contains(s, "50") || strings.Contains(s, "85") {
			t.Errorf("without a loss: %s", s)
		}
		if s := said(1); !strings.Contains(s, "85") {
			t.Errorf("with one: %s", s)
		}
	}
}

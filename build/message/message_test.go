package message

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
)

var headLine = regexp.MustCompile(`(?m)^=== ([a-z-]+)\n`)

// letter is a message with what a person reads out of it.
type letter struct {
	name, text string
	said       map[string]string
	guess      map[string]bool
	not        []string
	wants      *string // LOT:COUNT of those in the demonstration, where the letter was written to it
}

func letters(t testing.TB) []letter {
	t.Helper()
	data, err := os.ReadFile("testdata/messages.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []letter
	heads := headLine.FindAllStringSubmatchIndex(string(data), -1)
	for i, m := range heads {
		end := len(data)
		if i+1 < len(heads) {
			end = heads[i+1][0]
		}
		out = append(out, letter{name: string(data[m[2]:m[3]]), text: "\n" + string(data[m[1]:end])})
	}
	for i := range out {
		l := &out[i]
		_, rest, _ := strings.Cut(l.text, "\n")
		at := strings.LastIndex(rest, "\n---\n")
		facts := rest[at+len("\n---\n"):]
		l.text, l.said, l.guess = rest[:at], map[string]string{}, map[string]bool{}
		for line := range strings.Lines(facts) {
			line = strings.TrimSpace(line)
			if key, ok := strings.CutPrefix(line, "-"); ok {
				l.not = append(l.not, key)
				continue
			}
			if wants, ok := strings.CutPrefix(line, "wants:"); ok {
				wants = strings.TrimSpace(wants)
				l.wants = &wants
				continue
			}
			key, value, ok := strings.Cut(line, ": ")
			if !ok {
				continue
			}
			guess := strings.HasPrefix(key, "~")
			key = strings.TrimPrefix(key, "~")
			if printed := new(Reading).asBlock(key, value); printed != "" {
				value = printed
			} else {
				t.Fatalf("%s: %s: %s is no line of a block", l.name, key, value)
			}
			l.said[key], l.guess[key] = value, guess
		}
	}
	return out
}

// score counts facts by what became of them.
type score struct{ said, guessed, missed, wrongGuess, wrong int }

func (s score) String() string {
	return fmt.Sprintf("%d said, %d guessed and shown so, %d missed, %d wrong guesses, %d wrong and taken as said", s.said, s.guessed, s.missed, s.wrongGuess, s.wrong)
}

// judged compares a reading with what a person reads.
func judged(t *testing.T, l letter, r Reading, s *score) {
	got := map[string]Fact{}
	for _, f := range slices.Concat(r.Said, r.Guessed) {
		got[f.Key] = f
	}
	guessed := func(key string) bool {
		return slices.ContainsFunc(r.Guessed, func(f Fact) bool { return f.Key == key })
	}
	for key, want := range l.said {
		f, ok := got[key]
		switch {
		case !ok:
			s.missed++
			t.Logf("%s: missed %s: %s %v", l.name, key, want, r.Doubts)
		case f.Is != want && guessed(key):
			s.wrongGuess++
			t.Logf("%s: guessed %s: %s, it is %s", l.name, key, f.Is, want)
		case f.Is != want, l.guess[key] && !guessed(key):
			s.wrong++
			t.Errorf("%s: took %s: %s as said, it is %s", l.name, key, f.Is, want)
		case guessed(key):
			s.guessed++
		default:
			s.said++
		}
	}
	for key, f := range got {
		if _, ok := l.said[key]; ok {
			continue
		}
		if guessed(key) {
			s.wrongGuess++
			t.Logf("%s: guessed %s: %s, which is not said", l.name, key, f.Is)
			continue
		}
		s.wrong++
		t.Errorf("%s: took %s: %s as said, which it is not (%s)", l.name, key, f.Is, f.From)
	}
}

// Hours that are none, or more than a day has, are not read.
func TestALampIsOnForPartOfADay(t *testing.T) {
	for text, want := range map[string]string{
		"The light is on from 9 to 9 Uhr.":               "",
		"Licht von 8 bis 20 Uhr und 6 bis 22 Uhr":        "",
		"Licht von 8 bis 12 Uhr und 16 bis 22 Uhr":       "10",
		"The lamp runs from 11:00 to 20:00.":             "9",
		"Lights 2 pm to 10 pm, the heater is set to 25.": "8",
	} {
		r, err := Read(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := valueOf(r.Block.String(), "light hours"); got != want {
			t.Errorf("%q: %q hours, not %q", text, got, want)
		}
	}
}

// What people write is read right, or shown as a guess, or not read; nothing wrong is taken silently.
func TestMessagesAreReadOrAskedAbout(t *testing.T) {
	all := letters(t)
	if len(all) < 50 {
		t.Fatalf("only %d messages", len(all))
	}
	var known, held score
	offers := demonstration(t)
	for _, l := range all {
		r, err := Read(l.text)
		if err != nil {
			t.Fatal(err)
		}
		r.For("")
		s := &known
		if strings.HasPrefix(l.name, "held-") {
			s = &held
		}
		judged(t, l, r, s)
		if l.wants == nil {
			continue
		}
		got, doubts := r.Wants(offers)
		for _, w := range got {
			if want := strings.Fields(*l.wants); !slices.Contains(want, said([]Want{w})) && (w.Count > 0 || !slices.ContainsFunc(want, func(x string) bool { return strings.HasPrefix(x, w.Lot+":") })) {
				t.Errorf("%s: %s is asked for, not %s (%s)", l.name, said([]Want{w}), *l.wants, w.From)
			}
		}
		if said(got) != *l.wants {
			t.Logf("%s: %q is asked for, not %q %v", l.name, said(got), *l.wants, doubts)
		}
	}
	t.Logf("%d messages; those that the reader was made with: %s; those held out: %s", len(all), known, held)
}

// demonstration is what is on offer in the demonstration on 25 November.
func demonstration(t testing.TB) []Offer {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	lot := func(id, plant string, left int) *ledger.Lot {
		return &ledger.Lot{Lot: &journal.Lot{ID: id, Plant: plant, Expected: left < 0}, Left: max(0, left)}
	}
	own := "wendtii-wash-house"
	return Offers([]*ledger.Lot{lot("AB-0725", "anubias-barteri", 0), lot("AB-1115", "anubias-barteri", 1), lot("BC-1122", "bacopa-caroliniana", 8), lot("BM-1019", "bacopa-monnieri", 2),
		lot("CB-1121", "cryptocoryne-beckettii", 3), lot("CP-1214", "cryptocoryne-parva", -1), lot("CT-0524", "ceratopteris-thalictroides", 0), lot("CW-1122", "cryptocoryne-wendtii", 2),
		lot("CX-0801", "cryptocoryne-x-willisii", 0), lot("HL-0531", "hydrocharis-laevigata", 0), lot("HT-1116", "hydrocotyle-tripartita", 2), lot("HZ-1101", "heteranthera-zosterifolia", 3),
		lot("HZ-1206", "heteranthera-zosterifolia", -1), lot("LC-1004", "lobelia-cardinalis", 45), lot("LP-0905", "leptochilus-pteropus", 0), lot("RR-0919", "rotala-rotundifolia", 0),
		lot("SR-1122", "staurogyne-repens", 5), lot("SS-0927", "sagittaria-subulata", 0), lot("TB-0913", "taxiphyllum-barbieri", 0), lot("VS-1121", "vallisneria-spiralis", 0), lot("WW-0111", own, -1)},
		a, func(id string) almanac.Species {
			s, _ := a.Species(id)
			if id == own {
				s = a.Introduce(id, "Cryptocoryne wendtii", "brown crypt “wash-house”", almanac.Profile{})
			}
			s.ID = id
			return s
		})
}

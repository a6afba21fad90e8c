package message

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var headLine = regexp.MustCompile(`(?m)^=== ([a-z-]+)\n`)

// letter is a message with what a person reads out of it.
type letter struct {
	name, text string
	said       map[string]string
	guess      map[string]bool
	not        []string
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
	}
	t.Logf("%d messages; those that the reader was made with: %s; those held out: %s", len(all), known, held)
}

package message

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/block"
	"slipleaf/build/spelling"
)

// What is read is what a block can say, and says it again.
func holds(t testing.TB, text string) {
	t.Helper()
	r, err := Read(text)
	if err != nil {
		return
	}
	again, notes, err := block.Parse(r.Block.String())
	if err != nil || len(notes) > 0 || again.String() != r.Block.String() {
		t.Fatalf("%q was read as\n%s\nwhich is read as\n%s\n%v %v", text, r.Block, again, notes, err)
	}
	seen := map[string]bool{}
	for _, f := range append(append([]Fact{}, r.Said...), r.Guessed...) {
		clean(t, f.From)
		if seen[f.Key] || valueOf(r.Block.String(), f.Key) != f.Is {
			t.Fatalf("%q: %s: %q is not what the block says: %s", text, f.Key, f.Is, r.Block)
		}
		seen[f.Key] = true
	}
	for _, d := range r.Doubts {
		clean(t, d.From)
		if seen[d.Key] {
			t.Fatalf("%q: %s is taken and doubted", text, d.Key)
		}
	}
}

// clean holds that what is repeated of a stranger's message moves no terminal's cursor and turns no line.
func clean(t testing.TB, said string) {
	t.Helper()
	if spelling.Clean(said) != said {
		t.Fatalf("%q is repeated as it came", said)
	}
}

func TestWordsThatAreRepeatedMoveNoTerminal(t *testing.T) {
	const hostile = "I want 2 anubias \x1b[31m \x1b]0;x\x07 \u202e 24 C, the tap \x1b[2J is 21 dGH"
	holds(t, hostile)
	wants, _ := wantsIn(hostile, bench)
	if len(wants) != 1 {
		t.Fatal(wants)
	}
	clean(t, wants[0].From)
}

// fuzzed are the bytes of a text that fuzzing reads: a whole letter takes it too long.
const fuzzed = 160

func FuzzRead(f *testing.F) {
	for _, l := range letters(f) {
		for line := range strings.Lines(l.text) {
			f.Add(line)
		}
	}
	f.Fuzz(func(t *testing.T, text string) { holds(t, text[:min(len(text), fuzzed)]) })
}

// Figures with their units are read as they are, whatever the order and the words between.
func TestFiguresWithUnitsAreReadAsTheyAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temp, gh, kh := rapid.IntRange(15, 32).Draw(t, "temp"), rapid.IntRange(1, 30).Draw(t, "gh"), rapid.IntRange(1, 20).Draw(t, "kh")
		ph := float64(rapid.IntRange(50, 89).Draw(t, "ph")) / 10
		long, wide, high := rapid.IntRange(20, 200).Draw(t, "long"), rapid.IntRange(15, 80).Draw(t, "wide"), rapid.IntRange(15, 80).Draw(t, "high")
		lines := []string{
			fmt.Sprintf(rapid.SampledFrom([]string{"The water is %d °C.", "Temperature: %d C", "%d degrees Celsius in the tank.", "Temperatur %d °C."}).Draw(t, "a"), temp),
			fmt.Sprintf(rapid.SampledFrom([]string{"GH %d dGH", "GH: %d dGH.", "general hardness is %d dGH."}).Draw(t, "b"), gh),
			fmt.Sprintf(rapid.SampledFrom([]string{"KH %d dKH", "KH = %d dKH.", "carbonate hardness %d dKH."}).Draw(t, "c"), kh),
			fmt.Sprintf(rapid.SampledFrom([]string{"pH %.1f", "The pH is %.1f.", "pH-Wert: %.1f"}).Draw(t, "d"), ph),
			fmt.Sprintf(rapid.SampledFrom([]string{"The tank is %d x %d x %d cm.", "%d × %d × %d cm", "%dx%dx%dcm"}).Draw(t, "e"), long, wide, high),
			rapid.SampledFrom([]string{"", "I have 12 guppies.", "My number is 0161 496 0000.", "See you on 3 May.", "Thanks, Tom"}).Draw(t, "f"),
		}
		order := rapid.Permutation(lines).Draw(t, "order")
		text := strings.Join(order, rapid.SampledFrom([]string{"\n", "\r\n", "\n\n"}).Draw(t, "end"))
		r, err := Read(text)
		if err != nil {
			t.Fatal(err)
		}
		for key, want := range map[string]string{"temperature": fmt.Sprintf("%d C", temp), "gh": fmt.Sprintf("%d dGH", gh), "kh": fmt.Sprintf("%d dKH", kh), "ph": fmt.Sprint(ph),
			"tank length": fmt.Sprintf("%d cm", long), "tank width": fmt.Sprintf("%d cm", wide), "tank height": fmt.Sprintf("%d cm", high)} {
			if got := valueOf(r.Block.String(), key); got != want {
				t.Errorf("%q: %s: %q, not %q (%v)", text, key, got, want, r.Doubts)
			}
		}
		// what is quoted of another changes nothing
		quoted, err := Read(text + "\n> my tank has 29 C and pH 4.5 and GH 29 dGH")
		if err != nil || quoted.Block.String() != r.Block.String() {
			t.Errorf("a quotation changes what is read: %v", err)
		}
	})
}

// Two values for one key are never taken, one of each.
func TestOfTwoValuesNoneIsTaken(t *testing.T) {
	for _, text := range []string{"24 C. 26 C.", "pH 7. The pH is 8.", "60x30x30 cm, or 80x30x30 cm", "CO2: yes. No CO2.", "Please post them. I collect them.", "I live in Germany. I live in France."} {
		r, err := Read(text)
		if err != nil || len(r.Doubts) == 0 {
			t.Errorf("%q: %v %v", text, r.Said, err)
		}
		holds(t, text)
	}
}

// No text that a message may have takes long: what is far longer than people write is left.
func BenchmarkLongest(b *testing.B) {
	for _, s := range []string{"24 C ", "HZ-0418:3 ", "60x30x30 cm, ", "3 ", "a"} {
		text := strings.Repeat(s, block.MaxBytes/len(s))
		b.Run(s, func(b *testing.B) {
			for b.Loop() {
				_, _ = Read(text)
			}
		})
	}
}

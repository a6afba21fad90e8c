package message

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

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

// A message may end in dots, in signs alone or in nothing.
func TestAMessageMayEndInSignsAlone(t *testing.T) {
	for _, end := range []string{"...", "???", "!", "-", "--", ">", "|", "| |", ".,", "x", "\n\n", "1", "From: a\nTo: b\n", "On 1 May 2026 a wrote:", "-----Original Message-----"} {
		holds(t, end)
		holds(t, "24 °C\n"+end)
		holds(t, end+"\n24 °C, pH 7\n"+end+"\n"+end)
	}
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

// facts are what was read, "?" behind what was guessed, without what depends on capitals.
func facts(t testing.TB, text string) map[string]string {
	t.Helper()
	r, err := Read(text)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range r.Said {
		out[f.Key] = f.Is
	}
	for _, f := range r.Guessed {
		out[f.Key] = f.Is + "?"
	}
	return out
}

// some are all letters, or every fourth where time is short.
func some(t *testing.T) (out []letter) {
	for i, l := range letters(t) {
		if !testing.Short() || i%4 == 0 {
			out = append(out, l)
		}
	}
	return out
}

// What a mail program puts below an answer, from memory of several, changes nothing that is read.
func TestWhatIsQuotedBelowChangesNothing(t *testing.T) {
	const grower = "My tank is 99 x 44 x 33 cm, 29 C, pH 5.5, GH 29 dGH, no CO2, 99 W.\nHL-0531 and 9 of anything else. I live in France.\nWren"
	marked := "> " + strings.ReplaceAll(grower, "\n", "\n> ")
	for i, l := range some(t) {
		below := []string{
			"\n\nOn Mon, 23 Nov 2026 at 10:02, Wren <wren@bench.example> wrote:\n" + marked,
			"\n\nOn Mon, 23 Nov 2026 at 10:02, A Grower With a Long Name\n<wren@bench.example> wrote:\n\n" + marked,
			"\n\nAm 23.11.2026 um 10:02 schrieb Wren:\n\n" + grower,
			"\n\n-----Original Message-----\nFrom: Wren\nTo: You\n\n" + grower,
			"\n\n________________________________\nFrom: Wren <wren@bench.example>\nSent: Monday, 23 November 2026 10:02\nTo: You\nSubject: Re: plants\n\n" + grower,
			"\n\nVon: Wren <wren@bench.example>\nGesendet: Montag, 23. November 2026 10:02\nAn: Du\nBetreff: AW: Pflanzen\n\n" + grower,
		}[i%6]
		if was, got := facts(t, l.text), facts(t, l.text+below); !maps.Equal(got, was) {
			t.Errorf("%s with %q below: %v, not %v", l.name, below[:20], got, was)
		}
	}
}

// Where a mail program breaks lines (RFC 5322 asks for 78, many take 72), nothing is said that was not, and hardly anything is lost.
func TestBrokenLinesSayTheSame(t *testing.T) {
	lost, all := 0, 0
	for i, l := range some(t) {
		if strings.Contains(l.text, "\n>") { // what is quoted is broken otherwise
			continue
		}
		was, got := facts(t, l.text), facts(t, broken(l.text, 66+i%13))
		all += len(was)
		for key, value := range was {
			if got[key] != value {
				lost++
			}
		}
		for key, value := range got {
			if !strings.HasSuffix(value, "?") && was[key] != value {
				t.Errorf("%s: %s: %s is said in broken lines, not %q", l.name, key, value, was[key])
			}
		}
	}
	if lost*100 > all {
		t.Errorf("%d of %d facts are lost in broken lines", lost, all)
	}
}

// broken breaks long lines between words.
func broken(text string, width int) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		at := 0
		for i, w := range strings.Fields(line) {
			switch n := utf8.RuneCountInString(w); {
			case i == 0:
				at = n
			case at+1+n > width:
				b.WriteByte('\n')
				at = n
			default:
				b.WriteByte(' ')
				at += 1 + n
			}
			b.WriteString(w)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Who shouts or whispers says the same of the tank.
func TestCapitalsSayNothingOfTheTank(t *testing.T) {
	for i, l := range some(t) {
		if strings.Contains(l.text, "slipleaf") { // plain lines have units as they are
			continue
		}
		text := []string{strings.ToLower(l.text), strings.ReplaceAll(strings.ToUpper(l.text), "Μ", "µ")}[i%2]
		was, got := facts(t, l.text), facts(t, text)
		for _, key := range block.Keys() {
			if !slices.Contains([]string{"name", "region", "lot", "count", "livestock"}, key) && got[key] != was[key] {
				t.Errorf("%s: %s: %q, not %q, in %.12q…", l.name, key, got[key], was[key], text)
			}
		}
	}
}

var figure = regexp.MustCompile(`\d+(?:\.\d+)?`)

// No figure is said that the message has not, whatever lines of whomever come together.
func TestNoFigureComesFromNowhere(t *testing.T) {
	var lines []string
	for _, l := range letters(t) {
		lines = append(lines, strings.Split(l.text, "\n")...)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(lines), 1, 6).Draw(t, "lines"), rapid.SampledFrom([]string{"\n", " ", ", "}).Draw(t, "between"))
		r, err := Read(text)
		if err != nil {
			t.Fatal(err)
		}
		have := map[float64]bool{}
		for _, f := range figure.FindAllString(strings.Join(cleaned(text), "\n")+"\n"+text, -1) {
			v, _ := strconv.ParseFloat(f, 64)
			have[v] = true
		}
		for _, f := range r.Said {
			for _, n := range figure.FindAllString(strings.NewReplacer("CO2", "", "m2", "").Replace(f.Is), -1) {
				if v, _ := strconv.ParseFloat(n, 64); !have[v] && f.Key != "lot" && f.Key != "name" {
					t.Fatalf("%q: %s: %s is said, and %s is nowhere", text, f.Key, f.Is, n)
				}
			}
		}
	})
}

// notOfTheTank are sentences of which a figure is not that of the writer's tank today, written before the reader knew them.
var notOfTheTank = []string{
	"I used to run it at %s.", "Until last month I had %s.", "Before the move we had %s.", "My old tank had %s.", "The previous owner kept it at %s.", "Back then it was %s.", "In 2019 I measured %s.", "Years ago we had %s.",
	"Früher waren es %s.", "Bis zum Umzug hatte ich %s.", "Mein altes Becken hatte %s.", "Damals hatten wir %s.", "Vor dem Umzug waren es %s.", "Der Vorbesitzer hatte %s.",
	"My neighbour's tank is at %s.", "A mate of mine runs %s.", "Your website says %s.", "The book says %s.", "The shop keeps them at %s.", "My dad has %s.", "My boyfriend's tank has %s.", "On the forum they say %s.", "My flatmate keeps hers at %s.",
	"Im Buch steht %s.", "Beim Händler sind es %s.", "Mein Bruder hat %s.", "Meine Freundin hält ihre bei %s.", "Im Forum steht %s.", "Der Kollege fährt %s.", "Auf deiner Seite steht %s.", "Du schreibst was von %s.",
	"I'd like to get it to %s.", "I'm planning %s.", "Next year I'll go for %s.", "I want %s.", "It should end up at %s.", "I'm thinking of %s.", "I might go for %s.", "Ideally it would be %s.",
	"Ich will auf %s.", "Ziel ist %s.", "Demnächst sollen es %s sein.", "Ich plane %s.", "Ich hätte gern %s.", "Im neuen Becken werden es %s.", "Ich überlege, auf %s zu gehen.",
	"Is %s too much?", "Would %s be ok?", "Do they need %s?", "Can they take %s?", "What if I had %s?", "Sind %s zu viel?", "Reichen %s?", "Brauchen die %s?", "Wie wäre es mit %s?", "Vertragen sie %s?",
	"They need %s.", "It likes %s best.", "Die brauchen %s.", "Not %s.", "It isn't %s.", "Es sind nicht %s.", "I don't have %s.", "Niemals %s.", "If it were %s, would that do?", "Wenn ich %s hätte, ginge das?",
	"It must not go over %s.", "The limit is %s.", "Mehr als %s geht nicht.", "The bucket they came in was at %s.", "My quarantine tank is at %s.", "In the pond it's %s.", "Im Teich sind es %s.",
	"Im Quarantänebecken sind es %s.", "The hospital tank has %s.", "Beim Transport waren es %s.", "The mother plant grew in %s.", "You keep yours at %s.", "Bei dir sind es %s.",
	"When I started out it was %s.", "The tank came with %s.", "A year back I was running %s.", "My aunt's got hers on %s.", "The guy I bought it from swore by %s.",
	"People tell me %s is best.", "Supposedly they do well in %s.", "My son reckons %s.", "I aim for %s.", "We're hoping for %s.", "Once it's cycled it'll be %s.",
	"After Christmas it'll be %s.", "Up to %s should be fine?", "So %s wouldn't kill them?", "Anything above %s and they melt.", "Nothing over %s please.",
	"My breeding tank sits at %s.", "The shrimp tank is at %s, but that's not the one.", "The rain butt reads %s.", "Winter lows are %s.", "Am Anfang waren es %s.",
	"Letzten Sommer hatte es %s.", "Mein Onkel schwört auf %s.", "Laut Internet mögen sie %s.", "Angeblich gehen auch %s.", "Ab Frühjahr fahre ich %s.",
	"Sobald es eingelaufen ist, werden es %s.", "Ich strebe %s an.", "Könnten sie %s ab?", "Was passiert bei %s?", "Über %s werden sie matschig.", "Bloß keine %s.",
	"Im Zuchtbecken habe ich %s.", "Die Regentonne hat %s.", "Im Laden hatten sie %s.", "Statt %s.", "Der Verkäufer meinte %s.", "Im Urlaub fiel es auf %s.",
	"Der Hersteller empfiehlt %s.", "Unter %s geht nichts.",
	"The heater used to hold %s.", "Grandad always ran %s.", "My missus prefers %s.", "Wikipedia gives %s for them.", "A customer of mine gets away with %s.",
	"Come spring I'm switching to %s.", "I dream of %s.", "Surely %s can't be right for them?", "How do they cope with %s?", "Steer clear of %s.", "The goldfish tub is at %s.",
	"The tub outside reads %s.", "By August it's %s.", "The label promised %s.", "Vor Jahren hatte ich %s.", "Meine Oma hatte immer %s.", "In Büchern liest man %s.",
	"Ein Bekannter kommt mit %s gut klar.", "Die Pflanze hat bei mir schon %s überlebt.", "Irgendwann möchte ich %s.", "Träumen würde ich von %s.", "Halten die auch %s aus?",
	"Und bei %s?", "Alles außer %s.", "Im Kübel sind es %s.", "Im August werden es %s.", "Auf der Packung steht %s.", "Der Züchter hielt sie bei %s.", "Ab 2027 dann %s.",
}

// What was, what is wished for, asked, another's or denied is never taken as said of the tank.
func TestWhatIsNotOfTheTankIsNotSaid(t *testing.T) {
	for _, way := range notOfTheTank {
		for _, fact := range []string{"26 °C", "pH 8", "GH 20 dGH", "KH 15 dKH", "120 x 50 x 50 cm"} {
			r, err := Read("Hello, I have one tank. " + strings.Replace(way, "%s", fact, 1) + "\nThanks,\nTom")
			if err != nil || len(r.Said) > 0 {
				t.Errorf("%s with %s: %v is said (%v)", way, fact, r.Said, err)
			}
		}
	}
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

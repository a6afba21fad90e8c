package block

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

const message = `Dear Perrin,
I should like some of these, if they are still there.

=== slipleaf: my tank ===
lot: HZ-1122
count: 4
temperature: 24 C (24 C or 75 F)
ph: 7.2
gh: 8 dGH
kh: ?
conductivity: (300 uS/cm)
tank length: 60 cm
tank width: 30 cm
water depth: 28 cm
co2: no
lamp output: 1500 lm
light hours: 8
substrate: fine sand
substrate depth: 4 cm
livestock: 20 small tetras, 3 snails
region: gb
how: by hand
name: Example Person
=== slipleaf: end ===
Yours`

func TestAMessageIsRead(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(string) string
	}{
		{"as written", func(s string) string { return s }},
		{"with lines of another system", func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }},
		{"quoted", func(s string) string { return "> " + strings.ReplaceAll(s, "\n", "\n> ") }},
		{"quoted twice", func(s string) string { return ">> " + strings.ReplaceAll(s, "\n", "\n>> ") }},
		{"with spaces that do not break", func(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }},
		{"with capitals", func(s string) string {
			return strings.ReplaceAll(strings.ReplaceAll(s, "tank ", "Tank "), "gh:", "GH :")
		}},
		{"with signs that a mail program drew anew", func(s string) string { return strings.ReplaceAll(s, "===", "—") }},
		{"with tabs and a byte order mark", func(s string) string { return "\ufeff" + strings.ReplaceAll(s, ": ", ":\t") }},
		{"behind the empty block that it answers", func(s string) string { return Block{Lot: "HZ-1122"}.Form() + s }},
		{"before the empty block that it answers", func(s string) string { return s + "\n> " + strings.ReplaceAll(Block{}.Form(), "\n", "\n> ") }},
		{"with strange lines among the others", func(s string) string {
			return strings.Replace(s, "co2:", "Sent from a telephone\nshoe size: 9\nco2:", 1)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, notes, err := Parse(c.edit(message))
			if err != nil {
				t.Fatal(err)
			}
			if strings.Contains(c.name, "strange") != (len(notes) > 0) {
				t.Errorf("notes: %v", notes)
			}
			want := "=== slipleaf: my tank ===\nlot: HZ-1122\ncount: 4\ntemperature: 24 C\nph: 7.2\ngh: 8 dGH\nkh: unknown\ntank length: 60 cm\n" +
				"tank width: 30 cm\nwater depth: 28 cm\nco2: no\nlamp output: 1500 lm\nlamp kind: white led\nlight hours: 8\nsubstrate: fine sand\nsubstrate depth: 4 cm\n" +
				"livestock: 20 small tetras, 3 snails\nregion: GB\nhow: by-hand\nname: Example Person\n=== slipleaf: end ===\n"
			if got := b.String(); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
			if !b.Water.KH.Asked() || b.Water.Conductivity.Written() || b.Tank.CO2 != journal.No {
				t.Errorf("water %v, tank %v", b.Water, b.Tank)
			}
		})
	}
}

func TestMistakesAreNotedAndLeftOut(t *testing.T) {
	for _, c := range []struct{ line, note string }{
		{"temperature: 24", "temperature"},
		{"gh: 8 litres", "gh"},
		{"count: several", "count"},
		{"co2: perhaps", "not one of yes, no"},
		{"light hours: 30", "hours"},
		{"region: England", "region"},
		{"how: by pigeon", "not one of post, by hand"},
		{"units: stones", "metric"},
		{"substrate nutrients: lots", "none, some, rich"},
		{"just a sentence", "KEY: VALUE"},
		{"colour: green", "unknown key"},
		{"name: " + strings.Repeat("x", MaxLine+1), "too long"},
	} {
		b, notes, err := Parse(begin + "\n" + c.line + "\n" + end + "\n")
		if err != nil || len(notes) != 1 || notes[0].Line != 2 || !strings.Contains(notes[0].Text, c.note) {
			t.Errorf("%s: notes %v, %v", c.line, notes, err)
		}
		if !reflect.DeepEqual(b.tidy(), Block{}) {
			t.Errorf("%s: something was kept: %+v", c.line, b)
		}
	}
}

// tidy forgets a tank of which nothing is said.
func (b Block) tidy() Block {
	if (Block{Tank: b.Tank}).String() == (Block{}).String() {
		b.Tank = nil
	}
	return b
}

func TestLimits(t *testing.T) {
	if _, _, err := Parse("nothing of ours"); !errors.Is(err, ErrNoBlock) {
		t.Errorf("no block: %v", err)
	}
	if _, _, err := Parse(strings.Repeat("x", MaxBytes+1)); !errors.Is(err, ErrTooLong) {
		t.Errorf("too long: %v", err)
	}
	_, notes, err := Parse(begin + "\n" + strings.Repeat("x\n", 10*MaxLines) + end)
	if err != nil || len(notes) > MaxLines+1 {
		t.Errorf("%d notes, %v", len(notes), err)
	}
	b, notes, err := Parse(begin + "\nlot: A-1")
	if err != nil || b.Lot != "A-1" || len(notes) != 1 {
		t.Errorf("a block without its end: %+v, %v, %v", b, notes, err)
	}
	b, notes, _ = Parse(begin + "\nlot: A-1\nlot: A-2\n" + end)
	if b.Lot != "A-1" || len(notes) != 1 {
		t.Errorf("a key twice: %q, %v", b.Lot, notes)
	}
}

func TestLinesOfACommandLine(t *testing.T) {
	b, notes, err := Lines("temperature=24 C, gh: 8 dGH; kh=5,5 dKH, livestock: 20 tetras, 3 snails")
	if err != nil || len(notes) > 0 {
		t.Fatal(notes, err)
	}
	want := "temperature: 24 C\ngh: 8 dGH\nkh: 5.5 dKH\nlivestock: 20 tetras, 3 snails\n"
	if got := b.String(); !strings.Contains(got, want) {
		t.Errorf("got %s", got)
	}
}

func TestLaterWordsReplaceEarlierOnes(t *testing.T) {
	a, _, _ := Lines("gh: 8 dGH; tank length: 60 cm; region: GB")
	b, _, _ := Lines("gh: 4 dGH; tank width: 30 cm")
	got := a.ReplaceOver(b)
	if s := got.String(); !strings.Contains(s, "gh: 4 dGH\ntank length: 60 cm\ntank width: 30 cm\nregion: GB") {
		t.Errorf("got %s", s)
	}
}

func TestTheFormSaysNothingUntilItIsFilledIn(t *testing.T) {
	b, notes, err := Parse(Block{Lot: "HZ-1", Units: quantity.US, UnitsSaid: true}.Form())
	if err != nil || len(notes) > 0 {
		t.Fatal(notes, err)
	}
	if !reflect.DeepEqual(b, Block{Lot: "HZ-1", Units: quantity.US, UnitsSaid: true}) {
		t.Errorf("%+v", b)
	}
	for _, k := range Keys() {
		asked := k != "ammonia" && k != "nitrite" // who has measured these writes them; nobody is asked to
		if strings.Contains(Block{}.Form(), "\n"+k+":") != asked {
			t.Errorf("%s is in the form: %v, want %v", k, !asked, asked)
		}
	}
}

// What says nothing is no animal, and a line that is read is not too long to be printed and read again.
func TestOddLinesReadBack(t *testing.T) {
	for _, line := range []string{"livestock: ,.", "livestock: 3 snails, ?, -, 4 .", "livestock: , don't know", "livestock: " + strings.Repeat("a,", 149), "name:" + strings.Repeat("x", MaxLine), "name: " + strings.Repeat("x", MaxLine-3) + ")()"} {
		b, _, err := Parse(begin + "\n" + line + "\n" + end)
		if err != nil {
			t.Fatal(err)
		}
		got, notes, err := Parse(b.String())
		if err != nil || len(notes) > 0 || !reflect.DeepEqual(got.tidy(), b.tidy()) {
			t.Errorf("%q: %+v became %+v, %v, %v", line, b, got, notes, err)
		}
	}
	b, _, _ := Parse(begin + "\nlivestock: 3 snails, ?, -, 4 .\n" + end)
	if len(b.Tank.Livestock) != 1 || b.Tank.Livestock[0].Count != 3 {
		t.Errorf("%+v", b.Tank.Livestock)
	}
}

func FuzzWhatIsPrintedReadsBack(f *testing.F) {
	f.Add(message)
	f.Add(Block{}.Form())
	f.Add(begin + "\nname: a (b) (c)\nlivestock: ,3,,4 5\nlot: (x\nkh: 5,5 dKH")
	f.Fuzz(func(t *testing.T, s string) {
		b, notes, err := Parse(s)
		if err != nil {
			return
		}
		if len(notes) > MaxLines+1 {
			t.Fatalf("%d notes", len(notes))
		}
		got, notes, err := Parse(b.String())
		if err != nil || len(notes) > 0 || !reflect.DeepEqual(got.tidy(), b.tidy()) {
			t.Fatalf("%q\n-> %+v\n-> %s-> %+v\n%v %v", s, b, b.String(), got, notes, err)
		}
	})
}

// Who tells the lumens alone means a white LED most often, and a record of lumens needs the kind; a kind that is told holds,
// whichever line comes first.
func TestLumensAloneAreOfAWhiteLED(t *testing.T) {
	for said, want := range map[string]string{
		"lamp output: 1500 lm": "white led", "lamp output: 1500 lm, lamp kind: ?": "white led", "lamp output: 1500 lm, lamp kind: t8": "t8", "lamp kind: t5; lamp output: 3000 lm": "t5",
		"lamp power: 20 W": "", "lamp output: ?": "",
	} {
		b, notes, err := Lines(said)
		if err != nil || len(notes) > 0 || b.Tank.Light[0].Kind != want {
			t.Errorf("%s: a lamp of the kind %q, want %q (%v, %v)", said, b.Tank.Light[0].Kind, want, notes, err)
		}
	}
}

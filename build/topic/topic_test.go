package topic

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

var update = flag.Bool("update", false, "rewrite the golden answers")

// questions holds one question for every topic, and those that take another road through it.
var questions = []struct{ name, line string }{
	{"hardness-units", "hardness gh=6dGH"},
	{"hardness-alkalinity", "hardness kh=71.4ppm"},
	{"hardness-ions", "hardness ca=50mg/L mg=10mg/L"},
	{"co2", "co2 ph=6.6 kh=4dKH temperature=24C conductivity=300uS/cm"},
	{"co2-guessed", "co2 ph=6.6 kh=71.4ppm temperature=75F"},
	{"target-ph", "target-ph co2=30mg/L kh=4dKH temperature=25C conductivity=300uS/cm level=80%"},
	{"dose-mass", "dose salt=KNO3 volume=10gal mass=500mg"},
	{"dose-raise", "dose salt=gypsum volume=100L raise-gh=3dGH"},
	{"blend", "blend kh-a=12dKH kh-b=0.5dKH want=4dKH volume=50L"},
	{"water-change", "water-change share=25% times=3 start=40mg/L tap=10mg/L"},
	{"changes-needed", "changes-needed share=30% start=40mg/L tap=5mg/L want=10mg/L"},
	{"changes-needed-hardness", "changes-needed share=25% start=12dKH tap=0.5dKH want=5dKH"},
	{"dose-peak", "dose-peak dose=5mg/L share=50%"},
	{"solids", "solids conductivity=310uS/cm"},
	{"solids-factor", "solids conductivity=310uS/cm dissolved-solids=155mg/L"},
	{"tank", "tank length=60cm width=30cm height=36cm rim-gap=3cm substrate-depth=5cm"},
	{"light", lampLine + "lamp-power=20W lamp-efficacy=1.6umol/J hours=8"},
	{"light-lumens", lampLine + "lamp-output=1800lm lamp-kind=white-led cover=clean-glass water=blackwater floating=20%"},
	{"lux", "lux lux=3000lux hours=8"},
	{"lux-tube", "lux lux=3000lux lamp-kind=cool-white-fluorescent"},
	{"room-co2", "room-co2 mass=2kg length=4m width=3m height=2.4m"},
	{"oxygen", "oxygen temperature=24C oxygen=6.5mg/L altitude=300m"},
	{"oxygen-night", "oxygen temperature=25C volume=110L length=118cm width=44cm hours=14 plants=900g fish=20g exchange=still"},
	{"scale", "scale ph=7.8 kh=12dKH gh=16dGH temperature=25C"},
	{"uptake", "uptake mass=150g"},
	{"parcel", "parcel mass=300g length=25cm width=18cm height=10cm wall=2cm start=22C outside=4C hours=36h keeps=8d"},
	{"growth", "growth points=0d:12,7d:15,14d:20,21d:24,28d:21,35d:26 trims=21d:8"},
	{"share", "share yes=7 of=9"},
	{"ammonia-below", "ammonia tan=<0.25mg/L ph=7.7 temperature=25C"},
	{"kh-in-french-degrees", "hardness kh=14.3°f"},
	{"ammonia", "ammonia tan=0.2mg/L ph=7.7 temperature=18C"},
}

func TestAnswersAreGolden(t *testing.T) {
	topicsSeen := map[string]bool{}
	for _, q := range questions {
		topicsSeen[strings.Fields(q.line)[0]] = true
		if q.name == "growth" {
			continue // its figures are held by the tests of the growth models
		}
		t.Run(q.name, func(t *testing.T) {
			a, err := ask(q.line)
			if err != nil {
				t.Fatal(err)
			}
			j, err := json.MarshalIndent(a, "", "  ")
			if err != nil {
				t.Fatal(err)
			}
			got := q.line + "\n\n" + a.Text() + "\n" + string(j) + "\n"
			path := "testdata/answers/" + q.name + ".txt"
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s differs:\n%s\nwant:\n%s", path, got, want)
			}
		})
	}
	for _, topic := range Topics() {
		if !topicsSeen[topic.Name] {
			t.Errorf("no question on %s", topic.Name)
		}
	}
}

// Every answer has the shape of the command's JSON, with its working and a source.
func TestAnswersHaveTheirShape(t *testing.T) {
	for _, q := range questions {
		a, err := ask(q.line)
		if err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var got map[string]any
		if err := json.Unmarshal(b, &got); err != nil {
			t.Fatal(err)
		}
		for _, key := range []string{"inputs", "results", "working", "sources", "cautions"} {
			if got[key] == nil {
				t.Errorf("%s: no %s", q.name, key)
			}
		}
		if got["topic"] != strings.Fields(q.line)[0] || len(a.Results) == 0 || len(a.Working) == 0 || len(a.Sources) == 0 {
			t.Errorf("%s: %+v", q.name, a)
		}
		for _, r := range got["results"].([]any) {
			m := r.(map[string]any)
			if m["name"] == "" || m["value"] == nil || m["unit"] == nil || (m["low"] == nil) != (m["high"] == nil) {
				t.Errorf("%s: result %v", q.name, m)
			}
		}
	}
}

// A question may be asked in any unit of the format.
func TestUnitsDoNotMatter(t *testing.T) {
	for _, pair := range [][2]string{
		{"co2 ph=6.8 kh=4dKH temperature=25C", "co2 ph=6.8 kh=1.42661meq/L temperature=77F"},
		{"dose salt=gypsum volume=37.85411784L raise-gh=3dGH", "dose salt=gypsum volume=10gal raise-gh=53.5439ppm"},
		{"tank length=60.96cm width=30.48cm height=40.64cm", "tank length=24in width=1ft height=16in"},
		{"ammonia tan=0.2mg/L ph=7.7 temperature=18C", "ammonia tan=200ug/L ph=7.7 temperature=291.15K"},
		{lampLine + "lamp-power=20W lamp-efficacy=2umol/J hours=8", lampLine + "lamp-power=20W lamp-efficacy=2umol/J hours=480min"},
		{"water-change share=50% times=1 start=10dGH tap=0dGH", "water-change share=50% times=1 start=1.78326mmol/L tap=0ppm"},
	} {
		a, err1 := ask(pair[0])
		b, err2 := ask(pair[1])
		if err := reckon.FirstError(err1, err2); err != nil {
			t.Fatal(err)
		}
		for i := range a.Results {
			x, y := a.Results[i].Value, b.Results[i].Value
			if a.Results[i].Unit != b.Results[i].Unit { // water-change answers in the unit of its start
				x *= float64(quantity.DGH)
			}
			if math.Abs(x-y) > 1e-4*math.Abs(x) {
				t.Errorf("%s: %s is %g, asked otherwise %g", pair[0], a.Results[i].Name, x, y)
			}
		}
	}
}

// A stand that levels off is answered by the logistic and by what the space holds; one that does not, by the line.
func TestGrowthNamesItsModel(t *testing.T) {
	var points []string
	for day := 0; day <= 84; day += 7 {
		w := 100 / (1 + math.Exp(-0.12*(float64(day)-35)))
		w *= 1 + 0.02*float64(day%3-1) // a count is never exact
		points = append(points, fmt.Sprintf("%dd:%.1f", day, w))
	}
	a, err := ask("growth points=" + strings.Join(points, ","))
	if err != nil {
		t.Fatal(err)
	}
	holds, ok := a.Named("holds")
	if m, _ := a.Named("model"); m.Word != "logistic" || !ok || holds.Value < 90 || holds.Value > 110 {
		t.Errorf("%+v", a.Results)
	}
	a, err = ask("growth points=" + strings.Join(points[:5], ","))
	if err != nil {
		t.Fatal(err)
	}
	if m, _ := a.Named("model"); m.Word != "log-linear" {
		t.Errorf("%+v", a.Results)
	}
	if _, err = ask("growth points=0d:10,7d:13"); err == nil || !strings.Contains(err.Error(), "not enough counts") {
		t.Errorf("two counts give %v", err)
	}
	if _, err = ask("growth points=0d:10,7d:nan"); err == nil {
		t.Error("a size that is no number passes")
	}
	a, err = ask("growth points=0d:20,7d:19,14d:17,21d:16,28d:14")
	if _, ok := a.Named("doubling-time"); err != nil || ok || !strings.Contains(strings.Join(a.Working, " "), "no growth is seen") {
		t.Errorf("a shrinking stand: %+v, %v", a, err)
	}
}

func TestLevelWidensAnInterval(t *testing.T) {
	width := func(line string) float64 {
		a, err := ask(line)
		if err != nil {
			t.Fatal(err)
		}
		w, ok := a.Named("wilson")
		if !ok {
			t.Fatal("no interval")
		}
		return *w.High - *w.Low
	}
	if a, b := width("share yes=7 of=9 level=80%"), width("share yes=7 of=9"); a >= b || !near(b, width("share yes=7 of=9 level=95%"), 1e-12) {
		t.Errorf("80 %%: %g, default: %g", a, b)
	}
	a, err := ask("ammonia tan=1mg/L ph=7 temperature=20C level=80%")
	if err != nil || !strings.Contains(strings.Join(a.Working, "\n"), "level is not used") {
		t.Errorf("%v, %v", a.Working, err)
	}
}

// A range as input is answered by its middle, and the working says so.
func TestARangeIsAnsweredByItsMiddle(t *testing.T) {
	a, err := ask("co2 ph=6.8 kh=3..5dKH temperature=25C")
	b, err2 := ask("co2 ph=6.8 kh=4dKH temperature=25C")
	if err := reckon.FirstError(err, err2); err != nil {
		t.Fatal(err)
	}
	if a.Results[0].Value != b.Results[0].Value || !strings.Contains(strings.Join(a.Working, "\n"), "kh is given as 3..5 dKH") {
		t.Errorf("%v\n%v", a, b)
	}
}

func TestWordsWithoutAValue(t *testing.T) {
	for _, w := range []string{"ph", "=6.8", ""} {
		if _, err := ParseArgs([]string{w}); err == nil {
			t.Errorf("%q passes for key=value", w)
		}
	}
}

// FuzzReckon: whatever is asked, an answer is finite in every figure and marshals, or the error has words.
func FuzzReckon(f *testing.F) {
	for _, q := range questions {
		f.Add(q.line)
	}
	f.Add("dose salt=gypsum volume=1e400L mass=<5g")
	f.Add("growth points=0d:0,1d:1,2d:1e11,0d:5 trims=1d:1")
	f.Add("light lamp-power=0W lamp-efficacy=1umol/J lamp-length=1cm lamp-width=1cm above-water=0cm length=5cm width=5cm water-depth=1cm hours=NaN")
	f.Fuzz(func(t *testing.T, line string) {
		words := strings.Fields(line)
		if len(words) == 0 {
			return
		}
		args, err := ParseArgs(words[1:])
		var a Answer
		if err == nil {
			a, err = Reckon(words[0], args)
		}
		if err != nil {
			var e *reckon.InputError
			if err.Error() == "" || errors.As(err, &e) && e.Name == "" {
				t.Fatalf("%q: an error without words: %#v", line, err)
			}
			return
		}
		for _, r := range a.Results {
			if !reckon.Finite(r.Value) || r.Low != nil && !(reckon.Finite(*r.Low) && reckon.Finite(*r.High) && *r.Low <= *r.High) {
				t.Fatalf("%q: %s is %g", line, r.Name, r.Value)
			}
		}
		b, err := json.Marshal(a)
		if err != nil || !json.Valid(b) || a.Text() == "" {
			t.Fatalf("%q: %s, %v", line, b, err)
		}
	})
}

func BenchmarkReckonLight(b *testing.B) {
	for b.Loop() {
		if _, err := ask(lampLine + "lamp-power=20W lamp-efficacy=1.6umol/J"); err != nil {
			b.Fatal(err)
		}
	}
}

// near reports whether two figures agree within a share of the larger.
func near(a, b, relative float64) bool {
	return math.Abs(a-b) <= relative*math.Max(math.Abs(a), math.Abs(b))
}

// Every figure that an answer prints with a unit of the journal format is read again by the calculator: the unit is one of
// the format's spellings, or of what nothing asks for: a rate, a load on the floor, the light of a day.
func TestPrintedUnitsAreRead(t *testing.T) {
	known := map[string]bool{"": true, "1/d": true, "kPa": true, "psf": true, "mol/m2/d": true}
	for k := quantity.TemperatureKind; k <= quantity.PHKind; k++ {
		for _, s := range quantity.Spellings(k) {
			known[s] = true
		}
	}
	for _, q := range questions {
		a, err := ask(q.line)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range a.Results {
			if !known[r.Unit] {
				t.Errorf("%s: %s is in %q", q.name, r.Name, r.Unit)
			}
		}
	}
}

package page_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/suit"
)

// suitCase is a tank as somebody typed it, beside a plant.
type suitCase struct {
	Plant   suit.SuitPlant    `json:"plant"`
	Typed   map[string]string `json:"typed"`
	CO2     string            `json:"co2"`
	species almanac.Species
	from    journal.Parameters
	fromCO2 journal.Tristate
}

// suitAnswer is what either language says of a case.
type suitAnswer struct {
	Summary  string `json:"summary"`
	Step     int    `json:"step"`
	Verdicts []struct {
		Parameter string  `json:"parameter"`
		Outcome   string  `json:"outcome"`
		By        float64 `json:"by"`
	} `json:"verdicts"`
}

// suitUnits are the spellings in which the cases are typed, with the size of a usual figure in each.
var suitUnits = map[string][]struct {
	unit string
	most float64
}{
	"temperature": {{"C", 34}, {"F", 94}, {"°C", 34}, {"K", 305}}, "ph": {{"", 9}}, "gh": {{"dGH", 30}, {"ppm", 500}, {"mmol/L", 5}, {"°f", 50}, {"°e", 36}},
	"kh": {{"dKH", 18}, {"ppm", 320}, {"meq/L", 6.4}, {"mmol/L", 6.4}}, "light": {{"umol/m2/s", 250}, {"lux", 12000}}, "conductivity": {{"uS/cm", 2400}, {"mS/cm", 2.4}},
}

// TestScriptAndSheetsJudgeAlike holds the rules of suit.js against those of care sheets.
func TestScriptAndSheetsJudgeAlike(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("node is not installed, and the checks need it")
		}
		t.Skip("node is not installed: the script's rules are not held against the sheets'")
	}
	cases := suitCases(t, 900)
	in, err := json.Marshal(cases)
	if err != nil {
		t.Fatal(err)
	}
	script, err := filepath.Abs("../../themes/bench/scripts/suit.js")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", `const s = require(process.argv[1]);
let text = ""; process.stdin.on("data", d => text += d).on("end", () => console.log(JSON.stringify(JSON.parse(text).map(c => {
  const tank = { co2: c.co2 };
  for (const k in c.typed) { tank[k] = s.read(k, c.typed[k]); if (tank[k].fault) throw new Error(k + ": " + c.typed[k]); }
  return s.fit(c.plant, tank);
}))));`, script)
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, stderr.String())
	}
	var answers []suitAnswer
	if err := json.Unmarshal(out, &answers); err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for i, c := range cases {
		want := goAnswer(t, c)
		compareAnswers(t, i, c, answers[i], want)
		seen[want.Summary]++
	}
	for _, s := range []string{"good-match", "one-change", "poor-match", "cannot-say"} {
		if seen[s] < 20 {
			t.Errorf("%s came up %d times only: %v", s, seen[s], seen)
		}
	}
}

func compareAnswers(t *testing.T, i int, c suitCase, got, want suitAnswer) {
	t.Helper()
	if got.Summary != want.Summary || got.Step != want.Step {
		t.Errorf("case %d: the script says %s, step %d; the sheet %s, step %d (%s in %v)", i, got.Summary, got.Step, want.Summary, want.Step, c.Plant.ID, c.Typed)
	}
	for k, w := range want.Verdicts {
		g := got.Verdicts[k]
		if g.Parameter != w.Parameter || g.Outcome != w.Outcome || math.Abs(g.By-w.By) > 1e-6 {
			t.Errorf("case %d: the script says %+v; the sheet %+v (%s in %v)", i, g, w, c.Plant.ID, c.Typed)
		}
	}
}

func suitCases(t *testing.T, n int) []suitCase {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	var known []almanac.Species
	for _, s := range a.All() {
		if s.Profiled {
			known = append(known, s)
		}
	}
	r := rand.New(rand.NewPCG(11, 2026))
	out := make([]suitCase, n)
	for i := range out {
		c := suitCase{Typed: map[string]string{}, species: known[r.IntN(len(known))], CO2: []string{"", "yes", "no"}[r.IntN(3)], fromCO2: journal.Tristate(r.IntN(3))}
		for _, k := range []string{"temperature", "ph", "gh", "kh", "light", "conductivity"} {
			if r.IntN(10) < 4 || k == "conductivity" && r.IntN(4) > 0 {
				continue
			}
			c.Typed[k] = typed(r, k, c.species)
		}
		if r.IntN(5) > 0 {
			c.from = journal.Parameters{Temperature: reading[quantity.Temperature](t, strconv.Itoa(18+r.IntN(10))+" C"),
				GH: reading[quantity.Hardness](t, strconv.Itoa(r.IntN(20))+" dGH"), KH: reading[quantity.Alkalinity](t, strconv.Itoa(r.IntN(12))+" dKH")}
		}
		c.Plant = suit.SuitPlantOf(c.species)
		c.Plant.From = suit.SuitWaterOf(c.from, c.fromCO2)
		out[i] = c
	}
	return out
}

// typed is a figure as people type it; often one that lies inside the plant's band or on its end.
func typed(r *rand.Rand, key string, s almanac.Species) string {
	if r.IntN(2) == 0 {
		switch mid := r.Float64(); {
		case key == "temperature" && s.Temperature.Known():
			return fmt.Sprintf("%.1f C", float64(s.Temperature.Low())+mid*float64(s.Temperature.High()-s.Temperature.Low()))
		case key == "gh" && s.GH.Known():
			return fmt.Sprintf("%.0f dGH", s.GH.Low().DGH()+mid*(s.GH.High().DGH()-s.GH.Low().DGH()))
		case key == "kh" && s.KH.Known():
			return fmt.Sprintf("%.0f dKH", s.KH.Low().DKH()+mid*(s.KH.High().DKH()-s.KH.Low().DKH()))
		}
	}
	units := suitUnits[key]
	u := units[r.IntN(len(units))]
	least := 0.0
	switch {
	case u.unit == "K":
		least = 285
	case u.unit == "F":
		least = 50
	case key == "temperature":
		least = 10
	case key == "ph":
		least = 5
	}
	a, b := least+r.Float64()*(u.most-least), least+r.Float64()*(u.most-least)
	switch {
	case r.IntN(6) == 0:
		return strings.TrimSpace(fmt.Sprintf("%.1f..%.1f %s", min(a, b), max(a, b)+0.1, u.unit))
	case r.IntN(8) == 0 && key != "light":
		return strings.TrimSpace(fmt.Sprintf("<%.1f %s", a+0.1, u.unit))
	}
	return strings.TrimSpace(fmt.Sprintf("%.1f %s", a, u.unit))
}

func reading[T quantity.Scalar](t *testing.T, s string) quantity.Reading[T] {
	t.Helper()
	if s == "" {
		return quantity.Reading[T]{}
	}
	r, err := quantity.Parse[T](s)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return r
}

func goAnswer(t *testing.T, c suitCase) suitAnswer {
	t.Helper()
	w := journal.Parameters{Temperature: reading[quantity.Temperature](t, c.Typed["temperature"]), PH: reading[quantity.PH](t, c.Typed["ph"]),
		GH: reading[quantity.Hardness](t, c.Typed["gh"]), KH: reading[quantity.Alkalinity](t, c.Typed["kh"]), Conductivity: reading[quantity.Conductivity](t, c.Typed["conductivity"])}
	if l := c.Typed["light"]; strings.HasSuffix(l, "lux") {
		w.Lux = reading[quantity.Illuminance](t, l)
	} else {
		w.Light = reading[quantity.PhotonFlux](t, l)
	}
	co2 := map[string]journal.Tristate{"yes": journal.Yes, "no": journal.No}[c.CO2]
	f := sheet.FittingOf(c.species, w)
	f.Injected = co2
	how := sheet.Sensitive{Need: c.species.CO2, Melts: c.Plant.Melts}
	if c.Plant.KH != nil {
		how.KHMax = sheet.Band{Low: c.Plant.KH[0], High: c.Plant.KH[1], Known: true}
	}
	f.StepClass = sheet.StepBetween(c.from, w, c.fromCO2, co2, how).Class
	got := sheet.Fit(f)
	out := suitAnswer{Summary: string(got.Summary), Step: int(f.StepClass)}
	for _, v := range got.Verdicts {
		out.Verdicts = append(out.Verdicts, struct {
			Parameter string  `json:"parameter"`
			Outcome   string  `json:"outcome"`
			By        float64 `json:"by"`
		}{string(v.Parameter), string(v.Outcome), v.By})
	}
	return out
}

// What the form writes for the grower is what send reads.
func TestSuitBlockIsRead(t *testing.T) {
	b := benchBook(t)
	data, err := b.Suit()
	if err != nil {
		t.Fatal(err)
	}
	var d suit.SuitData
	i := bytes.Index(data, []byte(`id="suit-data">`)) + len(`id="suit-data">`)
	if err := json.Unmarshal(data[i:i+bytes.Index(data[i:], []byte("</script>"))], &d); err != nil {
		t.Fatal(err)
	}
	if len(d.Plants) < 5 || d.Words["good-match"] == "" {
		t.Fatalf("%d plants, %d words", len(d.Plants), len(d.Words))
	}
	keys := map[string]bool{}
	for _, k := range block.Keys() {
		keys[k] = true
	}
	lines := []string{d.Begin}
	for part := range strings.SplitSeq(string(data), `<input id="s-`) {
		name, rest, ok := strings.Cut(part, `" name="`)
		_, example, _ := strings.Cut(rest, `data-example="`)
		example, _, _ = strings.Cut(example, `"`)
		if !ok || name == "light" || len(name) > 40 {
			continue
		}
		key := strings.ReplaceAll(name, "-", " ")
		if !keys[key] {
			t.Errorf("the form has %q, which the block does not know", key)
		}
		example, _, _ = strings.Cut(example, ", ")
		lines = append(lines, key+": "+example)
	}
	got, notes, err := block.Parse(strings.Join(append(lines, d.End), "\n"))
	if err != nil || len(notes) > 0 {
		t.Fatalf("%v %v", err, notes)
	}
	if got.Water.Temperature.String() != "24 C" || got.Tank == nil || got.Tank.Inside.Length.String() != "60 cm" || len(got.Tank.Light) != 1 {
		t.Errorf("read %+v", got)
	}
}

// askScript has suit.js read texts of a kind: "fault", or the lowest and the highest figure.
func askScript(t *testing.T, kindsAndTexts [][2]string) []string {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed")
	}
	script, err := filepath.Abs("../../themes/bench/scripts/suit.js")
	if err != nil {
		t.Fatal(err)
	}
	in, err := json.Marshal(kindsAndTexts)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", `const read = require(process.argv[1]).read;
let text = ""; process.stdin.on("data", d => text += d).on("end", () => console.log(JSON.stringify(JSON.parse(text).map(([kind, typed]) => {
  const r = read(kind, typed);
  return r.fault ? "fault" : r.low + "-" + r.high;
}))));`, script)
	cmd.Stdin = bytes.NewReader(in)
	var out []string
	if data, err := cmd.Output(); err != nil || json.Unmarshal(data, &out) != nil || len(out) != len(kindsAndTexts) {
		t.Fatalf("%v: %s", err, data)
	}
	return out
}

// TestScriptReadsWordsAndMeters holds what suit.js makes of words and of how meters name their unit: a word of another
// parameter is no figure.
func TestScriptReadsWordsAndMeters(t *testing.T) {
	var asked [][2]string
	cases := [][3]string{{"light", "70 PAR", "70-70"}, {"light", "PAR 40", "40-40"}, {"light", "par: 40,5", "40.5-40.5"}, {"light", "70 µmol", "70-70"}, {"light", "bright", "50-100"}, {"light", "medium", "30-50"},
		{"kh", "soft", "1-4"}, {"gh", "Hart", "15-25"}, {"light", "40", "fault"}, {"light", "PAR", "fault"}, {"gh", "PAR 8", "fault"},
		{"kh", "bright", "fault"}, {"light", "soft", "fault"}, {"temperature", "soft", "fault"}, {"kh", "constructor", "fault"}, {"constructor", "7", "7-7"}}
	for _, c := range cases {
		asked = append(asked, [2]string{c[0], c[1]})
	}
	for i, got := range askScript(t, asked) {
		if got != cases[i][2] {
			t.Errorf("%s %s: %s, want %s", cases[i][0], cases[i][1], got, cases[i][2])
		}
	}
}

// However a meter's figure is written, the page and a diary read the same of it, or both refuse it.
func TestScriptAndDiaryReadLightAlike(t *testing.T) {
	var asked [][2]string
	var want []string
	refused := 0
	figure := rapid.OneOf(rapid.StringMatching(`[1-9][0-9]{0,2}([.,][0-9]{1,2})?`), rapid.StringMatching(`[1-9][0-9](\.\.|-| – )[1-9][0-9]{2}`))
	rapid.Check(t, func(t *rapid.T) {
		before := rapid.SampledFrom([]string{"PAR ", "par: ", "PPFD = ", "par", "light ", ""}).Draw(t, "before")
		after := rapid.SampledFrom([]string{" PAR", "PAR", " µmol", " umol/m2/s", "µmol/m²/s", " μmol/m²/s", " ppfd", " UMOL", " W", " mol", " umol/J", ""}).Draw(t, "after")
		if before == "" && after == "" { // the diary's key says what is meant, the page's field takes lux too
			return
		}
		text := before + figure.Draw(t, "figure") + after
		r, _, err := quantity.Meant[quantity.PhotonFlux](text)
		says := fmt.Sprintf("%v-%v", float64(r.Low()), float64(r.High()))
		if err != nil {
			says = "fault"
			refused++
		}
		asked, want = append(asked, [2]string{"light", text}), append(want, says)
	})
	for i, got := range askScript(t, asked) {
		if got != want[i] {
			t.Errorf("%q: the page reads %s, a diary %s", asked[i][1], got, want[i])
		}
	}
	if refused == 0 || refused == len(want) {
		t.Errorf("%d of %d were refused", refused, len(want))
	}
}

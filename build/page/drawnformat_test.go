package page_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/format"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
)

// drawnOn is the day for which drawn journals are shown; their dates lie before and after it.
var drawnOn = quantity.Date{Year: 2026, Month: 8, Day: 1}

// formatDrawer draws what may stand in a journal, from the table of its format.
type formatDrawer struct {
	t    *rapid.T
	lots []string // names so far
}

func (d *formatDrawer) chance(percent int) bool {
	return rapid.IntRange(0, 99).Draw(d.t, "chance") < percent
}

func (d *formatDrawer) one(of ...string) string { return rapid.SampledFrom(of).Draw(d.t, "word") }

// mapping draws the keys of a mapping: those that it needs, and some others.
func (d *formatDrawer) mapping(name string, share int) map[string]any {
	m, _ := format.Find(name)
	needs := slices.Clone(m.Needs)
	if len(m.Any) > 0 {
		needs = append(needs, strings.Fields(d.one(m.Any...))...)
	}
	out := map[string]any{}
	if name == "lot" {
		d.lots = append(d.lots, fmt.Sprintf("A-%d", len(d.lots)))
	}
	for _, k := range m.Keys {
		if slices.Contains(needs, k.Name) || d.chance(share) {
			v := d.value(k)
			switch name + "." + k.Name {
			case "lot.lot":
				v = d.lots[len(d.lots)-1]
			case "tank.began":
				v = drawnOn.Add(-395).String()
			case "tank.ended":
				v = drawnOn.Add(rapid.IntRange(-30, 90).Draw(d.t, "ended")).String()
			}
			if v != nil {
				out[k.Name] = v
			}
		}
	}
	return out
}

func (d *formatDrawer) value(k format.Key) any {
	if k.Is.OrAll && d.chance(30) {
		return "all"
	}
	n := 1
	if k.Is.List {
		n = rapid.IntRange(1, 3).Draw(d.t, "several")
	}
	var list []any
	byPlant := map[string]any{}
	for range n {
		v := d.single(k)
		if v == nil {
			return nil
		}
		list = append(list, v)
		byPlant[d.plant()] = v
	}
	switch {
	case k.Is.ByPlant:
		return byPlant
	case k.Is.List:
		return list
	}
	return list[0]
}

func (d *formatDrawer) plant() string {
	return d.one("heteranthera-zosterifolia", "anubias-barteri", "lemna-minor", "riccia-fluitans", "cryptocoryne-wendtii", "bench-moss", "java fern", "cabomba-caroliniana", "bucephalandra-sp")
}

func (d *formatDrawer) single(k format.Key) any {
	switch v := k.Is; v.Kind {
	case format.Date:
		return drawnOn.Add(rapid.IntRange(-400, 60).Draw(d.t, "day")).String()
	case format.Truth:
		return rapid.SampledFrom([]any{true, false, "unknown"}).Draw(d.t, "truth")
	case format.Whole:
		return rapid.SampledFrom([]int{v.Low, v.Low + 1, min(v.High, 7), min(v.High, 40), v.High}).Draw(d.t, "whole")
	case format.Hours:
		return rapid.SampledFrom([]float64{0, 0.5, 6, 10, 24}).Draw(d.t, "hours")
	case format.Word:
		return d.one(v.Words...)
	case format.Amount:
		return d.amount(k)
	case format.Removed:
		return d.one("6 plantlets", "30 %", "12 stems", "20 g", "40 cm", "3 leaves")
	case format.Requests:
		return d.one("mailto:wren@bench.example?subject={lot}", "https://bench.example/ask?lot={lot}&plant={plant}")
	case format.Region:
		return d.one("GB", "US-OH", "US-CA", "DE", "AU-WA", "NZ", "FR", "ZA", "IN")
	case format.Language:
		return d.one("en", "de")
	case format.LotName:
		return d.one(append(d.lots, "X-9")...)
	case format.TankName:
		return d.one("bath", "sink")
	case format.Plant:
		return d.plant()
	case format.Folder, format.Code:
		return nil
	case format.Part:
		return d.mapping(v.Part, 40)
	case format.Line, format.Text:
		if d.chance(60) {
			return d.one("none", "unknown", "melt & <rot>", "2026-01", "Größe \"L\"", "tap", "a word of "+strings.Repeat("length ", 12)+"here", "aquasoil", "t5")
		}
	}
	return k.Example
}

// amount is a quantity near the example: of another size or unit, a range, or less than it.
func (d *formatDrawer) amount(k format.Key) string {
	text := fmt.Sprint(k.Example)
	if d.chance(30) {
		return text
	}
	number, unit, _ := strings.Cut(text, " ")
	number, _, _ = strings.Cut(number, "..")
	var n float64
	fmt.Sscan(strings.TrimLeft(number, "<~"), &n)
	n *= rapid.SampledFrom([]float64{0, 0.1, 0.5, 0.9, 1.3, 2, 5}).Draw(d.t, "times")
	if d.chance(15) {
		unit = d.one(append(quantity.Units(k.Is.Of), unit)...)
	}
	switch {
	case d.chance(10):
		return strings.TrimSpace(fmt.Sprintf("%v..%v %s", shown(n), shown(1.5*n), unit))
	case d.chance(5):
		return strings.TrimSpace(fmt.Sprintf("<%v %s", shown(n), unit))
	}
	return strings.TrimSpace(fmt.Sprintf("%v %s", shown(n), unit))
}

// shown is a number as people write it.
func shown(n float64) string { return strconv.FormatFloat(math.Round(n*100)/100, 'f', -1, 64) }

// headOf writes a mapping with a line for each key, so that a complaint names what to leave out.
func headOf(m map[string]any, fence string) string {
	text := fence
	for _, k := range slices.Sorted(maps.Keys(m)) {
		v, _ := json.Marshal(m[k])
		text += k + ": " + string(v) + "\n"
	}
	return text + fence
}

// drawnJournal draws a journal of every kind of file.
func drawnJournal(t *rapid.T) fstest.MapFS {
	d, files := &formatDrawer{t: t}, fstest.MapFS{}
	put := func(name, mapping string, share int) {
		fence := "---\n"
		if path.Ext(name) == ".yaml" {
			fence = ""
		}
		files[name] = &fstest.MapFile{Data: []byte(headOf(d.mapping(mapping, share), fence))}
	}
	put("journal.yaml", "journal", 50)
	for _, tank := range []string{"bath", "sink"} {
		put("tanks/"+tank+"/tank.md", "tank", 60)
		day := -390
		for range rapid.IntRange(0, 8).Draw(t, "entries") {
			day += rapid.IntRange(1, 60).Draw(t, "gap")
			put("tanks/"+tank+"/"+drawnOn.Add(day).String()+".md", "entry", 50)
		}
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "records") {
		put(fmt.Sprintf("sent/r%d.md", i), "sent", 45)
	}
	put("plants/bench-moss.md", "plant", 60)
	put("pages/about.md", "page", 50)
	return files
}

// readable leaves out of a journal's files the lines that its reader refuses, and a file that it refuses still.
func readable(t *rapid.T, files fstest.MapFS) (*journal.Journal, *almanac.Almanac) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	for round := range 40 {
		j, complaints, err := journal.Read(context.Background(), fs.FS(files), a, journal.Options{On: drawnOn})
		if err != nil {
			t.Fatal(err)
		}
		if complaints.Errors() == 0 {
			return j, a
		}
		cut := map[string]map[int]bool{}
		for _, c := range complaints {
			if c.Severity == journal.Error && files[c.File] != nil {
				if cut[c.File] == nil {
					cut[c.File] = map[int]bool{}
				}
				cut[c.File][c.Line] = true
			}
		}
		for name, lines := range cut {
			if round > 20 && name != "journal.yaml" {
				delete(files, name)
				continue
			}
			all := strings.SplitAfter(string(files[name].Data), "\n")
			text := ""
			for i, l := range all {
				if !lines[i+1] || l == "---\n" {
					text += l
				}
			}
			if text == "" || !strings.Contains(text, "title:") && name == "journal.yaml" {
				text += "title: Drawn\ngrower: Wren\n"
			}
			files[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	t.Skip("a journal that its reader refuses")
	return nil, nil
}

// Whatever a journal holds that its reader takes, every page and file comes out.
func TestEveryOutputOfADrawnJournalComesOut(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a hundred sites")
	}

	rapid.Check(t, func(t *rapid.T) {
		j, a := readable(t, drawnJournal(t))
		look, err := lookIn(cmp.Or(j.Language, "en"))
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range page.NewSite(j, a, look, drawnOn, page.Options{}).Outputs() {
			if strings.HasPrefix(o.Addr, "/schema/") {
				continue
			}
			data, err := o.Make()
			if err != nil {
				t.Fatalf("%s: %v", o.Addr, err)
			}
			if path.Ext(o.Addr) == ".png" {
				continue
			}
			for _, odd := range []string{"NaN", "Inf ", ">Inf", "%!", "<no value>", "<nil>", "&lt;nil&gt;", "0001-01-01"} {
				if _, after, found := bytes.Cut(data, []byte(odd)); found {
					t.Fatalf("%s says %s before %.80q", o.Addr, odd, after)
				}
			}
		}
	})
}

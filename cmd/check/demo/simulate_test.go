// Package demo writes the measured half of the demonstration's diary: counts, trims, losses, parameters, doses and codes, with
// the truth behind them. Titles, prose, lots and parcels are written by hand and left as they stand. `go test ./cmd/check/demo -update`
// writes content/ and testdata/demo/ anew after a change of plan_test.go; without -update the tests hold both against it.
package demo

import (
	"bytes"
	"flag"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
)

const root = "../../.."

var update = flag.Bool("update", false, "write the measured half of the diary anew")

func TestTheDiaryIsWhatThePlanGives(t *testing.T) {
	files, err := render(os.DirFS(root), simulate(seed, tanks()))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		path := filepath.Join(root, filepath.FromSlash(f.path))
		if *update {
			if err := os.WriteFile(path, f.data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		have, err := os.ReadFile(path)
		if err != nil {
			t.Error(err)
			continue
		}
		if !same(t, f.path, f.data, have) {
			t.Errorf("%s is not what the plan gives; run with -update and read the difference", f.path)
		}
	}
}

// same compares bytes, or for the drawing its pixels: two versions of the PNG encoder may pack them differently.
func same(t *testing.T, name string, a, b []byte) bool {
	if !strings.HasSuffix(name, ".png") {
		return bytes.Equal(a, b)
	}
	x, err1 := png.Decode(bytes.NewReader(a))
	y, err2 := png.Decode(bytes.NewReader(b))
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if x.Bounds() != y.Bounds() {
		return false
	}
	for j := range x.Bounds().Dy() {
		for i := range x.Bounds().Dx() {
			if x.At(i, j) != y.At(i, j) {
				return false
			}
		}
	}
	return true
}

func TestEveryEntryIsPlannedAndHasWords(t *testing.T) {
	planned := map[string]bool{}
	for _, tk := range tanks() {
		for _, v := range tk.visits {
			planned[filepath.Join(root, "content/tanks", tk.name, v+".md")] = true
		}
	}
	found, err := filepath.Glob(filepath.Join(root, "content/tanks/*/2*.md"))
	if err != nil || len(found) != len(planned) {
		t.Fatalf("%d entries on disk, %d planned (%v)", len(found), len(planned), err)
	}
	for _, name := range found {
		head, body := read(t, name)
		if !planned[name] {
			t.Errorf("%s is not in plan_test.go", name)
		}
		if words := len(strings.Fields(body)); words < 25 || strings.Contains(head, "Untitled") {
			t.Errorf("%s wants writing: %d words", name, words)
		}
	}
}

func read(t *testing.T, name string) (head, body string) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return split(string(data))
}

// diary is the part of an entry's head from which growth is read.
type diary struct {
	Counts []map[string]any `yaml:"counts"`
	Trims  []map[string]any `yaml:"trims"`
	Losses []map[string]any `yaml:"losses"`
	Lots   []struct {
		Lot, Plant, Ready string
		Count             int
	} `yaml:"lots"`
}

func entryHead(t *testing.T, name string) diary {
	t.Helper()
	head, _ := read(t, name)
	var d diary
	if err := yaml.Unmarshal([]byte(head), &d); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return d
}

// TestCountsCarryTheTruth follows the counts of each series from one to the next, adds back what was cut, and asks whether the mean
// growth lies within four standard errors of the rate that made them. Error of two counts a segment, unevenness of all days.
func TestCountsCarryTheTruth(t *testing.T) {
	w := simulate(seed, tanks())
	for _, tr := range w.truth {
		if tr.Holds > 0 || tr.Switches != "" || len(tr.Counts) < 8 {
			continue
		}
		t.Run(tr.Tank+"/"+tr.Plant, func(t *testing.T) {
			logs, days, cuts := followed(t, tr)
			// rounding to whole plants and centimetres adds a few per cent to the error of a count
			m := math.Hypot(tr.M, 0.03)
			se := math.Sqrt(float64(tr.Q*tr.Q*days)+float64(2*m*m*float64(cuts+1))) / days
			if got := logs / days; math.Abs(got-tr.R) > 4*se {
				t.Errorf("the counts grow by %.4f a day, the truth is %.4f (standard error %.4f)", got, tr.R, se)
			}
		})
	}
}

// followed sums log growth over all steps between counts, with what was taken on a day taken from that day's count.
func followed(t *testing.T, tr truth) (logs, days float64, cuts int) {
	before, day := 0.0, ""
	for _, c := range tr.Counts {
		d := entryHead(t, filepath.Join(root, "content/tanks", tr.Tank, c.Date+".md"))
		now, length := sizeOf(pick(d.Counts, tr.Plant))
		if before > 0 {
			logs += math.Log(now / before)
			days += float64(daysBetween(day, c.Date))
		}
		taken := cutOf(pick(d.Trims, tr.Plant)) + lostOf(pick(d.Losses, tr.Plant), length)
		if taken > 0 {
			cuts++
		}
		before, day = now-taken, c.Date
	}
	return logs, days, cuts
}

func pick(list []map[string]any, plant string) map[string]any {
	i := slices.IndexFunc(list, func(m map[string]any) bool { return m["plant"] == plant })
	if i < 0 {
		return nil
	}
	return list[i]
}

// figure reads the number of a value like 12, 31 cm or 10 %; 0 when it is absent.
func figure(v any) float64 {
	switch v := v.(type) {
	case uint64:
		return float64(v)
	case string:
		var x float64
		if err := yaml.Unmarshal([]byte(strings.Fields(v)[0]), &x); err == nil {
			return x
		}
	}
	return 0
}

func sizeOf(c map[string]any) (size, length float64) {
	if length = figure(c["length"]); length > 0 {
		return figure(c["stems"]) * length, length
	}
	return figure(c["stems"]) + figure(c["plantlets"]) + figure(c["leaves"]) + figure(c["cover"]) + figure(c["mass"]), 1
}

func cutOf(m map[string]any) float64 {
	return (figure(m["cuttings"])-figure(m["replanted"]))*figure(m["length"]) + figure(m["removed"])
}

func lostOf(m map[string]any, length float64) float64 {
	n, _ := sizeOf(m)
	if figure(m["length"]) > 0 {
		return n
	}
	return n * length
}

// TestNothingIsGivenTwice checks the parcels against the lots: known, sent after they were ready, never more than there were.
// A promise that was withdrawn, or that lapsed after a fortnight, holds nothing.
func TestNothingIsGivenTwice(t *testing.T) {
	left, ready := map[string]int{}, map[string]string{}
	found, _ := filepath.Glob(filepath.Join(root, "content/tanks/*/2*.md"))
	for _, name := range found {
		for _, l := range entryHead(t, name).Lots {
			left[l.Lot] += l.Count
			if l.Count > 0 {
				ready[l.Lot] = l.Ready
			}
		}
	}
	if len(left) < 20 {
		t.Errorf("only %d lots", len(left))
	}
	sent, _ := filepath.Glob(filepath.Join(root, "content/sent/*.md"))
	codes := map[string]string{}
	for _, name := range sent {
		head, body := read(t, name)
		type item struct {
			Lot   string
			Count int
		}
		var p struct {
			Lot                             string
			Count                           int
			Items                           []item
			Reserved, Sent, Cancelled, Code string
		}
		if err := yaml.Unmarshal([]byte(head), &p); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		lapsed := p.Sent == "" && p.Reserved < "2026-11-08"
		if p.Items == nil {
			p.Items = []item{{p.Lot, p.Count}}
		}
		for _, i := range p.Items {
			if p.Cancelled == "" && !lapsed {
				left[i.Lot] -= i.Count
			}
			if ready[i.Lot] == "" || p.Sent != "" && p.Sent < ready[i.Lot] || left[i.Lot] < 0 {
				t.Errorf("%s takes %d of %s, ready %q, and leaves %d", name, i.Count, i.Lot, ready[i.Lot], left[i.Lot])
			}
		}
		if p.Code != "" && codes[p.Code] != "" {
			t.Errorf("%s and %s share a code", name, codes[p.Code])
		}
		codes[p.Code] = name
		if strings.TrimSpace(body) == "" {
			t.Errorf("%s has no note", name)
		}
	}
}

func TestBlocksKeepEveryLine(t *testing.T) {
	head := "title: A\nlots:\n  - {lot: X-1}\nprivate: {note: b}\n"
	parts := blocks(head)
	if got := parts["title"] + parts["lots"] + parts["private"]; got != head || len(parts) != 3 {
		t.Errorf("got %q", parts)
	}
}

package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
)

var small = size{Seed: 1, Entries: 200, Species: 45, Parcels: 40, Tanks: 3}

// asked is the journal of the benchmarks.
var asked = small

func TestMain(m *testing.M) {
	asked.flags(flag.CommandLine)
	os.Exit(m.Run())
}

func TestMadeJournalsHaveNoErrors(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(4) {
		s := small
		s.Seed = seed
		s.Species = len(a.All()) + 20
		files, err := planJournal(s)
		if err != nil {
			t.Fatal(err)
		}
		disk := fstest.MapFS{}
		for _, f := range files {
			disk[f.path] = &fstest.MapFile{Data: []byte(f.text)}
		}
		if len(disk) != len(files) {
			t.Errorf("seed %d: %d files, but %d paths", seed, len(files), len(disk))
		}
		j, complaints, err := journal.Read(context.Background(), disk, a, journal.Options{On: lastDay})
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range complaints {
			t.Errorf("seed %d: %s:%d: %s: %s", seed, c.File, c.Line, c.Rule, c.Message)
		}
		entries, lots := 0, len(j.Lots())
		for _, tank := range j.Tanks {
			entries += len(tank.Entries)
		}
		if entries != s.Entries || len(j.Tanks) != s.Tanks || len(j.Parcels) != s.Parcels || len(j.Plants) < 20 || lots == 0 {
			t.Errorf("seed %d: %d entries, %d tanks, %d parcels, %d plant files, %d lots", seed, entries, len(j.Tanks), len(j.Parcels), len(j.Plants), lots)
		}
	}
}

func TestOneSeedMakesOneJournal(t *testing.T) {
	text := func(seed uint64) string {
		s := small
		s.Seed = seed
		files, err := planJournal(s)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		for _, f := range files {
			b.WriteString(f.path + "\n" + f.text)
		}
		return b.String()
	}
	if once, again := text(3), text(3); once != again {
		t.Error("one seed made two journals")
	}
	if text(3) == text(4) {
		t.Error("two seeds made one journal")
	}
}

// The baseline must write what the build writes, or the ratios say nothing.
func TestMeasure(t *testing.T) {
	if testing.Short() {
		t.Skip("-short: a whole measurement, if a small one")
	}
	var build took // the first, of the whole site
	r, err := measure(context.Background(), small, 1, func(ctx context.Context, w work) (took, error) {
		got, err := do(ctx, w)
		if build.Files == 0 {
			build = got
		}
		return got, err
	})
	if err != nil {
		t.Fatal(err)
	}
	// The marker of a site is a file that the build does not count among its pages.
	base := r.Rounds["baseline"][0]
	if got, want := base.Files, build.Files+1; got != want {
		t.Errorf("the baseline wrote %d files, the build %d", got, want)
	}
	if got, least := base.Bytes, build.Bytes; got <= least || got > least+int64(100*r.Files) {
		t.Errorf("the baseline wrote %d bytes, the build %d and a marker", got, least)
	}
	if build.Made != build.Files {
		t.Errorf("a full build made %d of %d files", build.Made, build.Files)
	}
	if got := r.Rounds["another day"][0].Made; got == 0 || got > build.Files/2 {
		t.Errorf("another day made %d of %d files", got, build.Files)
	}
	var out bytes.Buffer
	r.print(&out)
	for _, k := range kinds {
		if x := r.Rounds[k][0]; x.Seconds <= 0 || x.Peak <= 0 || x.CPU <= 0 {
			t.Errorf("%s: %+v", k, x)
		}
		if !strings.Contains(out.String(), "| "+k+" |") {
			t.Errorf("%s is missing in\n%s", k, out.String())
		}
	}
}

func TestSpan(t *testing.T) {
	if got := spanOf([]float64{3, 1, 2}); got != (span{1, 2, 3}) {
		t.Errorf("%v", got)
	}
	if got := spanOf([]float64{4, 1, 2, 3}); got != (span{1, 2.5, 4}) {
		t.Errorf("%v", got)
	}
}

func TestBodyOf(t *testing.T) {
	for in, want := range map[string]string{"---\na: 1\n---\n\nx": "\nx", "no head": "no head", "---\nnever closed": "---\nnever closed"} {
		if got := string(bodyOf([]byte(in))); got != want {
			t.Errorf("%q: %q", in, got)
		}
	}
}

func TestTouchChangesOneFile(t *testing.T) {
	dir := t.TempDir()
	if err := writeJournal(dir, small); err != nil {
		t.Fatal(err)
	}
	found, err := filepath.Glob(filepath.Join(dir, "tanks", "tank-01", "2*.md"))
	if err != nil || len(found) == 0 {
		t.Fatal(found, err)
	}
	before, err := os.ReadFile(found[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := touch(dir, 0); err != nil {
		t.Fatal(err)
	}
	after, err := os.ReadFile(found[0])
	if err != nil || bytes.Equal(before, after) {
		t.Errorf("nothing changed (%v)", err)
	}
}

func TestANoisyMachineIsSaid(t *testing.T) {
	for most, want := range map[float64]bool{1.1: false, 1.5: true} {
		r := measured{Rounds: map[string][]took{}}
		for _, k := range kinds {
			r.Rounds[k] = []took{{CPU: 1}, {CPU: 1}, {CPU: most}}
		}
		var out bytes.Buffer
		r.print(&out)
		if got := strings.Contains(out.String(), "noisy"); got != want {
			t.Errorf("a baseline of 1 to %g s: noisy %v", most, got)
		}
	}
}

// BenchmarkFullBuild builds the journal that -entries and the other flags describe; -cpuprofile says where the time goes.
func BenchmarkFullBuild(b *testing.B) {
	dir := b.TempDir()
	if err := writeJournal(dir, asked); err != nil {
		b.Fatal(err)
	}
	again(b, func() work { return work{From: dir, To: filepath.Join(b.TempDir(), "www")} })
}

// again does pieces of work, and says what the benchmark itself does not see.
func again(b *testing.B, next func() work) {
	b.Helper()
	began := processor()
	for b.Loop() {
		if _, err := do(b.Context(), next()); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((processor()-began)/float64(b.N), "processor-s/op")
	b.ReportMetric(float64(peak()>>20), "peak-MB")
}

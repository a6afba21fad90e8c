package listing

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"pgregory.net/rapid"
)

// of lists a journal of these files, all of them empty.
func of(t *rapid.T, names ...string) *Listing {
	fsys := fstest.MapFS{"journal.yaml": {}}
	for _, n := range names {
		fsys[n] = &fstest.MapFile{}
	}
	l, err := Of(t.Context(), fsys, 1000)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// wrongAt is what a listing says of a file.
func wrongAt(l *Listing, file string) (out []Problem) {
	for _, p := range l.Problems {
		if p.File == file {
			out = append(out, p)
		}
	}
	return out
}

// Whoever follows the hint about an entry's name to the letter has an entry of the day that was meant, and no other file is
// in the way. A day that may be two is left to the grower.
func TestHintsOfEntryNamesLeadToEntries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := time.Date(rapid.IntRange(1901, 2199).Draw(t, "year"), 1, 1+rapid.IntRange(0, 364).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
		layout := rapid.SampledFrom([]string{"20060102", "2.1.2006", "02.01.2006", "02-01-2006", "01-02-2006", "2 1 2006", "2006-01-02", "2006_01_02"}).Draw(t, "layout")
		before := rapid.SampledFrom([]string{"", "Tank ", "vom ", "IMG_"}).Draw(t, "before")
		behind := rapid.SampledFrom([]string{"", " ", " (2)", " 🌱", " gru\u0308n", ", evening", "."}).Draw(t, "behind")
		name := before + day.Format(layout) + behind + ".md"
		there := []string{"tanks/a/tank.md", "tanks/a/" + name}
		if rapid.Bool().Draw(t, "the usual name is taken") {
			there = append(there, "tanks/a/"+day.Format("2006-01-02")+".md")
		}
		l := of(t, there...)
		wrong := wrongAt(l, "tanks/a/"+name)
		if len(wrong) == 0 || wrong[0].Wrong == Taken || wrong[0].Wrong == NameClash {
			return // it is read as it is, or both of a pair are known
		}
		to, ok := strings.CutPrefix(wrong[0].Hint, "rename it ")
		ambiguous := strings.ContainsAny(layout, "- ") && strings.HasSuffix(layout, "2006") && day.Day() <= 12
		if ok == ambiguous {
			t.Fatalf("%q: %+v", name, wrong)
		}
		if !ok {
			return
		}
		if slices.Contains(there, "tanks/a/"+to) {
			t.Fatalf("%q is to become %q, which is there", name, to)
		}
		l = of(t, append(there[:1:1], "tanks/a/"+to)...)
		i := slices.IndexFunc(l.Files, func(f File) bool { return f.Path == "tanks/a/"+to })
		if len(l.Problems) > 0 || i < 0 || l.Files[i].Date.String() != day.Format("2006-01-02") {
			t.Fatalf("%q as %q: %+v", name, to, l.Problems)
		}
	})
}

// What a program that keeps folders alike, or saves a file twice, makes of a file of the journal is told of and not read: all
// in it would count twice. The names are common practice.
func TestACopyThatAProgramMadeIsNotRead(t *testing.T) {
	files := []string{"journal.yaml", "tanks/a/tank.md", "tanks/a/2026-11-20.md", "tanks/a/2026-11-20-noon.md", "pages/about.md", "plants/anubias-nana.md", "sent/Ada 1.md", "friends/marsh.json"}
	rapid.Check(t, func(t *rapid.T) {
		file := rapid.SampledFrom(files).Draw(t, "file")
		n := rapid.IntRange(1, 99).Draw(t, "n")
		mark := rapid.SampledFrom([]string{" (%d)", "(%d)", " (Ada's conflicted copy 2026-11-%d)", ".sync-conflict-20261125-1010%d-ABC", "_conflict-%d", " copy %d", " - Kopie (%d)", " (Konflikt %d)", " Copy%d"}).Draw(t, "mark")
		ext := path.Ext(file)
		made := strings.TrimSuffix(file, ext) + fmt.Sprintf(mark, n) + ext
		l := of(t, append(slices.Clone(files[1:]), made)...)
		if wrong := wrongAt(l, made); len(wrong) != 1 || wrong[0].Wrong != NameClash || !strings.Contains(wrong[0].Message, path.Base(file)) {
			t.Errorf("%s: %+v", made, wrong)
		}
		if slices.ContainsFunc(l.Files, func(f File) bool { return f.Path == made }) {
			t.Errorf("%s is read", made)
		}
		if len(l.Files) != len(files) {
			t.Errorf("beside %s only %d of %d files are read", made, len(l.Files), len(files))
		}
	})
}

// An entry that lies where none is read is told of with the place where it belongs, and not called of no use.
func TestAnEntryAtAnotherPlaceIsShownItsOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"2026-11-25.md", "2026-1-5.md", "2026-11-25-noon.md", "2026-11-25.txt", "2026_11_25.MD"}).Draw(t, "name")
		at := rapid.SampledFrom([]string{"", "tanks/"}).Draw(t, "at")
		wrong := wrongAt(of(t, "tanks/a/tank.md", at+name), at+name)
		if len(wrong) != 1 || wrong[0].Wrong != Stray || !strings.Contains(wrong[0].Hint, "tanks/") {
			t.Errorf("%s: %+v", at+name, wrong)
		}
	})
}

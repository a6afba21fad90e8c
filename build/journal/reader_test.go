package journal

import (
	"fmt"
	"io/fs"
	"maps"
	"path"
	"reflect"
	"slices"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"pgregory.net/rapid"

	"slipleaf/build/quantity"
)

// shelf is a journal in memory whose files carry times.
type shelf struct {
	fstest.MapFS
	now time.Time
}

func newShelf() *shelf {
	s := &shelf{fstest.MapFS{}, time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)}
	s.put("journal.yaml", "title: A journal\ngrower: Ada\n")
	s.put("tanks/trough/tank.md", "---\nbegan: 2026-01-01\n---\n\nThe trough.\n")
	s.put("tanks/trough/2026-02-01.md", entryWith(3))
	s.put("tanks/trough/2026-03-01.md", "---\nlots:\n  - lot: HZ-1\n    plant: heteranthera-zosterifolia\n    form: cuttings\n    count: 4\n    pests: none seen\n---\n\nA lot.\n")
	s.put("sent/one.md", "---\nlot: HZ-1\ncount: 2\nreserved: 2026-05-30\n---\n")
	s.put("pages/about.md", "---\ntitle: About\n---\n\nHello.\n")
	return s
}

func entryWith(stems int) string {
	return fmt.Sprintf("---\ncounts:\n  - plant: heteranthera-zosterifolia\n    stems: %d\n    length: 10 cm\n---\n\nCounted.\n", stems)
}

// put writes a file a minute after the last.
func (s *shelf) put(path, text string) {
	s.now = s.now.Add(time.Minute)
	s.MapFS[path] = &fstest.MapFile{Data: []byte(text), ModTime: s.now, Mode: 0o644}
}

// seen is what a reading gave, for comparison.
type seen struct {
	Journal    *Journal
	Complaints Complaints
}

func look(t testing.TB, r *Reader, s *shelf, c Changes) seen {
	t.Helper()
	j, cs, err := r.Read(t.Context(), s.MapFS, Options{On: quantity.Date{Year: 2026, Month: 6, Day: 2}}, c)
	if err != nil {
		t.Fatal(err)
	}
	return seen{j, cs}
}

// same compares a reading with that of a reader that knows nothing.
func same(t testing.TB, got seen, s *shelf) {
	t.Helper()
	want := look(t, NewReader(mustAlmanac(t)), s, Changes{})
	if !reflect.DeepEqual(want.Complaints, got.Complaints) {
		t.Fatalf("read again, the complaints are %v, and afresh %v", got.Complaints, want.Complaints)
	}
	if !reflect.DeepEqual(want.Journal, got.Journal) {
		t.Fatal("read again, the journal differs from one read afresh")
	}
}

func TestAReaderReadsOnlyWhatChanged(t *testing.T) {
	s := newShelf()
	counted := &opened{MapFS: s.MapFS}
	r := NewReader(mustAlmanac(t))
	read := func(c Changes) int {
		counted.n.Store(0)
		if _, _, err := r.Read(t.Context(), counted, Options{}, c); err != nil {
			t.Fatal(err)
		}
		return int(counted.n.Load())
	}
	later := func() Changes { return Changes{Now: s.now.Add(time.Hour)} }
	if n := read(later()); n != 6 {
		t.Errorf("%d files opened at first, want 6", n)
	}
	if n := read(later()); n != 0 {
		t.Errorf("%d files opened though none changed", n)
	}
	s.put("tanks/trough/2026-02-01.md", entryWith(5))
	if n := read(later()); n != 1 {
		t.Errorf("%d files opened after one changed", n)
	}
	if n := read(Changes{}); n != 6 {
		t.Errorf("%d files opened without a clock, want all 6", n)
	}
	s.put("tanks/trough/2026-02-01.md", entryWith(6))
	if n := read(Changes{Only: []string{"tanks/trough/2026-02-01.md"}}); n != 1 {
		t.Errorf("%d files opened where one was named, want 1", n)
	}
}

// opened counts how often files are opened.
type opened struct {
	fstest.MapFS
	n atomic.Int64
}

func (o *opened) Open(name string) (fs.File, error) {
	if path.Ext(name) != "" {
		o.n.Add(1)
	}
	return o.MapFS.Open(name)
}

// A save that keeps a file's length within the grain of the disk's clock must not go unseen.
func TestASaveWithinTheClocksGrainIsSeen(t *testing.T) {
	s := newShelf()
	r := NewReader(mustAlmanac(t))
	now := Changes{Now: s.now.Add(time.Second)}
	look(t, r, s, now)
	file := s.MapFS["pages/about.md"]
	s.MapFS["pages/about.md"] = &fstest.MapFile{Data: []byte("---\ntitle: About\n---\n\nHallo.\n"), ModTime: file.ModTime}
	same(t, look(t, r, s, now), s)
}

func TestAReaderGivesEveryJournalItsOwnLots(t *testing.T) {
	s := newShelf()
	r := NewReader(mustAlmanac(t))
	first := look(t, r, s, Changes{}).Journal
	s.put("tanks/trough/2026-04-01.md", "---\nlosses:\n  - lot: HZ-1\n    count: 1\n---\n")
	second := look(t, r, s, Changes{}).Journal
	a, _ := first.Lot("HZ-1")
	b, _ := second.Lot("HZ-1")
	if len(a.Losses) != 0 || len(b.Losses) != 1 {
		t.Errorf("losses of the lot: %d before, %d after; want 0 and 1", len(a.Losses), len(b.Losses))
	}
}

// edit changes a file of the shelf at random: made, rewritten, removed, renamed. It returns the paths it touched.
func (s *shelf) edit(t *rapid.T) []string {
	texts := []string{entryWith(rapid.IntRange(0, 9).Draw(t, "stems")), "---\n---\n\nNothing.\n", "no head", "---\ncounts: [\n---\n",
		"---\nlots:\n  - lot: HZ-1\n    plant: heteranthera-zosterifolia\n    form: cuttings\n    expected: true\n---\n",
		"---\nlot: HZ-1\ncount: 3\nsent: 2026-05-01\n---\n", "---\ntitle: Two\norder: 2\n---\n", "---\nbegan: 2026-02-15\n---\n",
		"title: Other\ngrower: Bo\nregion: GB\n", "\x00",
		"---\ncounts:\n  - {plant: bench-moss, stems: 3}\nphotos: [{file: a.jpg, alt: Moss}]\n---\n", "---\ncounts:\n  - {plant: amazon sword, stems: 3}\n---\n",
		"---\nparameters: {gh: 140 dGH}\n---\n", "---\nbegan: 2026-01-01\nformerly: [nano]\n---\n", "---\ntaxon: Taxiphyllum barbieri\n---\n",
		"---\ncounts:\n  - {plant: Cryptocoryne wendtii 'Brown', stems: 3}\n---\n", "---\ncounts:\n  - {plant: cryptocoryne-wendtii-brown, stems: 3}\n---\n",
		"---\nlot: HZ-1\ncount: 1\nreserved: 2027-05-01\nwater: {gh: 140 dGH}\n---\n", "---\nlosses:\n  - {lot: HZ-1, count: 1}\nstill-there: [HZ-1]\n---\n"}
	all := slices.Sorted(maps.Keys(s.MapFS))
	if len(all) == 0 {
		s.put("journal.yaml", texts[8])
		return []string{"journal.yaml"}
	}
	at := rapid.SampledFrom(all).Draw(t, "file")
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		to := rapid.SampledFrom([]string{"tanks/trough/2026-05-01.md", "tanks/nano/tank.md", "tanks/nano/2026-05-02.md", "tanks/nano/2026-05-03.md", "sent/two.md",
			"pages/two.md", "plants/rotala-rotundifolia.md", "plants/bench-moss.md", "photos/a.jpg", "friends/marsh.json", "tanks/trough/odd.md"}).Draw(t, "new")
		s.put(to, rapid.SampledFrom(texts).Draw(t, "text"))
		return []string{to}
	case 1:
		delete(s.MapFS, at)
		return []string{at}
	case 2:
		to := rapid.SampledFrom([]string{"tanks/trough/2026-01-09.md", "sent/three.md", "pages/three.md"}).Draw(t, "to")
		s.put(to, string(s.MapFS[at].Data))
		delete(s.MapFS, at)
		return []string{at, to}
	}
	s.put(at, rapid.SampledFrom(texts).Draw(t, "text"))
	return []string{at}
}

// Whatever changes, and however the reader is told of it, it gives what reading afresh gives.
func TestReadingAgainIsReadingAfresh(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := newShelf()
		r := NewReader(mustAlmanac(t))
		look(t, r, s, Changes{Now: s.now.Add(time.Hour)})
		for range rapid.IntRange(1, 5).Draw(rt, "edits") {
			paths := s.edit(rt)
			c := Changes{Now: s.now.Add(time.Hour)}
			if rapid.Bool().Draw(rt, "told") {
				c.Only = paths
			}
			same(t, look(t, r, s, c), s)
		}
	})
}

package site

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"slipleaf/build/facts"
	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
)

// scribbler edits a journal in memory at random, as growers do and as nobody would.
type scribbler struct {
	files fstest.MapFS
	rng   *rand.Rand
	now   time.Time
}

func newScribbler(t testing.TB, seed uint64) *scribbler {
	t.Helper()
	records := 0
	s := &scribbler{fstest.MapFS{}, rand.New(rand.NewPCG(seed, 7)), time.Date(2020, 1, 1, 8, 0, 0, 0, time.UTC)}
	err := fs.WalkDir(os.DirFS("../../content"), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if records++; testing.Short() && strings.HasPrefix(p, "sent/") && records%6 > 0 {
			return nil // a sheet takes long
		}
		data, err := os.ReadFile("../../content/" + p)
		s.put(p, data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func (s *scribbler) put(p string, data []byte) {
	s.now = s.now.Add(time.Minute)
	s.files[p] = &fstest.MapFile{Data: data, ModTime: s.now, Mode: 0o644}
}

// pick is one of the files below a folder; "" where there is none.
func (s *scribbler) pick(below string) string {
	var all []string
	for _, p := range slices.Sorted(maps.Keys(s.files)) {
		if strings.HasPrefix(p, below) && (strings.HasSuffix(p, ".md") || p == "journal.yaml") {
			all = append(all, p)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return all[s.rng.IntN(len(all))]
}

// day is the day of the next build: often the same; else one on which little is otherwise, or a month, a season or years off, in
// either direction, so that entries and parcels lie ahead, windows end and years begin.
func (s *scribbler) day(on quantity.Date) quantity.Date {
	return one(s, on, on, on.Add(1), on.Add(-1), on.Add(s.rng.IntN(60)-30), demoDay.Add(s.rng.IntN(600)-400), demoDay)
}

func one[T any](s *scribbler, of ...T) T { return of[s.rng.IntN(len(of))] }

// scribbles are the kinds of edits. Each gives the paths that it touched; none where it found nothing to do.
var scribbles = []func(s *scribbler) []string{
	sentence, sentence, figure, figure, figure, dropLine, removed, renamed, copied, newPage, newReport, newReading, newSetting, newFriend, lostPhoto,
}

// sentence adds to a text: words, links and figures.
func sentence(s *scribbler) []string {
	p := s.pick(one(s, "tanks/", "sent/", "pages/", "plants/"))
	if p == "" {
		return nil
	}
	words := one(s, "More of the same.", "See [it](plant:rotala-rotundifolia).", "In [the trough](tank:trough).", "```parameter\nnitrate\n```",
		"```growth\nrotala-rotundifolia\n```", "```water\n```", "From [there](entry:"+s.entryLink()+").", "Gone to [nowhere](plant:no-such-plant).")
	s.put(p, append(bytes.Clone(s.files[p].Data), "\n\n"+words+"\n"...))
	return []string{p}
}

func (s *scribbler) entryLink() string {
	p := s.pick("tanks/")
	return path.Base(path.Dir(p)) + "/" + strings.TrimSuffix(path.Base(p), ".md")
}

var someFigure = regexp.MustCompile(`\d+(\.\d+)?`)

// figure changes a number of a head.
func figure(s *scribbler) []string {
	p := s.pick(one(s, "tanks/", "tanks/", "sent/", "plants/", "journal"))
	if p == "" {
		return nil
	}
	data := s.files[p].Data
	end := len(data)
	if i := bytes.Index(data, []byte("\n---\n")); i > 0 {
		end = i
	}
	all := someFigure.FindAllIndex(data[:end], -1)
	if len(all) == 0 {
		return nil
	}
	at := all[s.rng.IntN(len(all))]
	s.put(p, slices.Concat(data[:at[0]], []byte(fmt.Sprint(s.rng.IntN(40))), data[at[1]:]))
	return []string{p}
}

// dropLine takes a line out of a file.
func dropLine(s *scribbler) []string {
	p := s.pick("")
	lines := bytes.SplitAfter(s.files[p].Data, []byte("\n"))
	i := s.rng.IntN(len(lines))
	s.put(p, bytes.Join(slices.Delete(slices.Clone(lines), i, i+1), nil))
	return []string{p}
}

func removed(s *scribbler) []string {
	p := s.pick(one(s, "tanks/", "sent/", "pages/", "plants/"))
	if p == "" {
		return nil
	}
	delete(s.files, p)
	return []string{p}
}

func renamed(s *scribbler) []string {
	p := s.pick(one(s, "tanks/", "sent/"))
	if p == "" {
		return nil
	}
	to := path.Join(path.Dir(p), fmt.Sprintf("2026-%02d-%02d.md", 1+s.rng.IntN(12), 1+s.rng.IntN(28)))
	data := s.files[p].Data
	delete(s.files, p)
	s.put(to, data)
	return []string{p, to}
}

// copied writes an entry's text under another day, perhaps into another tank.
func copied(s *scribbler) []string {
	from, near := s.pick("tanks/"), s.pick("tanks/")
	if from == "" {
		return nil
	}
	to := path.Join(path.Dir(near), fmt.Sprintf("2026-%02d-%02d-copy.md", 1+s.rng.IntN(12), 1+s.rng.IntN(28)))
	s.put(to, s.files[from].Data)
	return []string{to}
}

func newPage(s *scribbler) []string {
	p := one(s, "pages/rain.md", "pages/about.md", "plants/egeria-densa.md", "plants/rotala-rotundifolia.md")
	s.put(p, fmt.Appendf(nil, "---\n%s\n---\n\nWords.\n", one(s, "title: Rain", "title: Zinc\norder: 1", "withhold: true", "height: 10..30 cm", "common: red thing")))
	return []string{p}
}

// newReport lets somebody write of a parcel.
func newReport(s *scribbler) []string {
	p := s.pick("sent/")
	if p == "" {
		return nil
	}
	head, body, found := bytes.Cut(s.files[p].Data, []byte("\n---\n"))
	if !found || bytes.Contains(head, []byte("reports:")) {
		return nil
	}
	s.put(p, fmt.Appendf(nil, "%s\nreports: [{date: 2026-11-%02d, outcome: %s}]\n---\n%s", head, 1+s.rng.IntN(24), one(s, "established", "lost", "melting", "passed-on"), body))
	return []string{p}
}

// newReading is an entry of today.
func newReading(s *scribbler) []string {
	p := path.Join(path.Dir(s.pick("tanks/")), "2026-11-24-late.md")
	s.put(p, fmt.Appendf(nil, "---\nparameters: {temperature: %d C, kh: %d dKH}\ncounts: [{plant: rotala-rotundifolia, stems: %d, length: 20 cm, area: 4 dm2}]\n---\n\nLate.\n",
		18+s.rng.IntN(9), 1+s.rng.IntN(12), 1+s.rng.IntN(60)))
	return []string{p}
}

func newSetting(s *scribbler) []string {
	f, ok := s.files["journal.yaml"]
	if !ok {
		return nil
	}
	s.put("journal.yaml", append(bytes.Clone(f.Data), one(s, "units: us\n", "quarantine: 21 d\n", "# nothing\n", "region: GB\n")...))
	return []string{"journal.yaml"}
}

func newFriend(s *scribbler) []string {
	p := "friends/reed.json"
	if _, there := s.files[p]; there && s.rng.IntN(2) == 0 {
		delete(s.files, p)
		return []string{p}
	}
	for have, f := range s.files {
		if strings.HasPrefix(have, "friends/") && strings.HasSuffix(have, ".json") {
			s.put(p, f.Data)
			break
		}
	}
	return []string{p}
}

func lostPhoto(s *scribbler) []string {
	for _, p := range slices.Sorted(maps.Keys(s.files)) {
		if strings.HasPrefix(p, "photos/") && s.rng.IntN(3) == 0 {
			delete(s.files, p)
			return []string{p}
		}
	}
	return nil
}

// carried is a page as some build made it.
type carried struct {
	read  []facts.Key
	print fingerprint.Sum
	data  []byte
}

// follower builds after every edit, with what it remembers, and as if for the first time.
type follower struct {
	t            *testing.T
	memory       *Memory
	room         *PhotoCache
	pages        map[string]carried
	on           quantity.Date // the day of the next build
	kept, remade int
	target       string // where every build is published as well
	spares       int    // how often a spare was kept
}

// cards tells pictures for link previews, which take long and of which little can come.
func cards(o page.Output) bool { return strings.HasSuffix(o.Addr, "card.png") }

// publish puts the site in place, by what earlier publishes left, and compares what lies there with a clean build.
func (f *follower) publish(s *scribbler, clean map[string][]byte, want journal.Complaints) {
	f.t.Helper()
	var cs journal.Complaints
	o := Options{On: f.on, Photos: f.room, Program: "a test", spareFrom: 1, only: func(o page.Output) bool { return !cards(o) }}
	for _, again := range []bool{false, true} {
		done, err := Publish(context.Background(), s.files, f.target, o, func(told journal.Complaints) { cs = told })
		if err != nil {
			f.t.Fatal(err)
		}
		if len(cs)+len(want) > 0 && !reflect.DeepEqual(cs, want) {
			f.t.Fatalf("publish: complaints differ:\n%v\nclean:\n%v", cs, want)
		}
		if clean == nil {
			return
		}
		if again && (done.Written > 0 || done.Removed > 0 || done.Made > 0) {
			f.t.Fatalf("a second publish was not idle: %+v", done)
		}
	}
	if _, err := os.Stat(beside(f.target, spareFolder)); err == nil {
		f.spares++
	}
	found := map[string]bool{}
	err := filepath.WalkDir(f.target, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, _ := filepath.Rel(f.target, p)
		rel = filepath.ToSlash(rel)
		found[rel] = true
		if data := []byte(read(f.t, p)); rel != marker && !bytes.Equal(data, clean[rel]) {
			f.t.Fatalf("published, %s differs from that of a clean build:\n%s", rel, firstDifference(data, clean[rel]))
		}
		return nil
	})
	if err != nil {
		f.t.Fatal(err)
	}
	for p := range clean {
		if !found[p] && !strings.HasSuffix(p, "card.png") {
			f.t.Fatalf("published, %s is missing", p)
		}
	}
	if len(found) > len(clean)+1 {
		f.t.Fatalf("published, %d files; a clean build has %d", len(found)-1, len(clean))
	}
}

// meddle does to the published site and to the cache what time, people and other programs do.
func (f *follower) meddle(s *scribbler) {
	cache := filepath.Join(beside(f.target, buildCache), storeName)
	some := func(dir string) string {
		var all []string
		_ = filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
			if err == nil && d.Type().IsRegular() && filepath.Base(p) != marker {
				all = append(all, p)
			}
			return nil
		})
		if len(all) == 0 {
			return filepath.Join(f.target, "none")
		}
		return all[s.rng.IntN(len(all))]
	}
	switch s.rng.IntN(10) {
	case 0: // all caches; without them what publish put there is not known
		for _, dir := range []string{f.target, beside(f.target, buildCache), beside(f.target, spareFolder)} {
			_ = os.RemoveAll(dir)
		}
	case 1:
		if data, err := os.ReadFile(cache); err == nil {
			data[s.rng.IntN(len(data))] ^= 1 << s.rng.IntN(8)
			_ = os.WriteFile(cache, data, 0o644)
		}
	case 2:
		_ = os.Truncate(cache, s.rng.Int64N(5000))
	case 3:
		_ = os.WriteFile(some(f.target), []byte("by hand"), 0o644)
	case 4:
		_ = os.Remove(some(f.target))
	case 5:
		f.stray(s, filepath.Join(filepath.Dir(some(f.target)), "stray.txt"))
	case 6:
		if _, err := os.Stat(beside(f.target, spareFolder)); err != nil {
			return
		}
		_ = os.WriteFile(filepath.Join(filepath.Dir(some(beside(f.target, spareFolder))), "stray.txt"), []byte("by hand"), 0o644)
	case 7:
		_ = os.RemoveAll(beside(f.target, spareFolder))
	}
}

// stray puts a file of others into the site: it is refused, and stays, until it is moved away.
func (f *follower) stray(s *scribbler, name string) {
	f.t.Helper()
	if os.WriteFile(name, []byte("by hand"), 0o644) != nil {
		return // there is no site yet
	}
	_, err := Publish(context.Background(), s.files, f.target, Options{On: f.on, Photos: f.room, Program: "a test"}, func(cs journal.Complaints) {
		if cs.Errors() > 0 {
			_ = os.Remove(name) // nothing is published, and nothing refused
		}
	})
	if _, there := os.Lstat(name); there == nil && (!errors.Is(err, ErrNotOurs) || !strings.Contains(err.Error(), "stray.txt")) {
		f.t.Fatalf("a file of others in the site: %v", err)
	}
	_ = os.Remove(name)
}

func (f *follower) load(s *scribbler, memory *Memory, changed []string) (*page.Site, journal.Complaints) {
	f.t.Helper()
	b, cs, err := Load(context.Background(), s.files, Options{On: f.on, Memory: memory, Changed: changed, Photos: f.room})
	if err != nil {
		f.t.Fatal(err)
	}
	return b, cs
}

// build checks a build that remembers against one that does not, byte for byte. Pictures for link previews take long and
// come of little: they are looked at where all is set.
func (f *follower) build(s *scribbler, changed []string, all bool) (ok bool) {
	f.t.Helper()
	b, cs := f.load(s, f.memory, changed)
	clean, want := f.load(s, new(Memory), nil)
	if !reflect.DeepEqual(cs, want) || (b == nil) != (clean == nil) {
		f.t.Fatalf("complaints differ:\n%v\nclean:\n%v", cs, want)
	}
	if b == nil {
		f.publish(s, nil, want)
		return false
	}
	files, err := Make(context.Background(), clean, Options{only: func(o page.Output) bool { return all || !cards(o) }})
	if err != nil {
		f.t.Fatal(err)
	}
	byPath := map[string][]byte{}
	for _, x := range files {
		byPath[x.Path] = x.Data
	}
	n := 0
	for _, out := range b.Outputs() {
		p := page.PathOf(out.Addr)
		if _, made := byPath[p]; !made {
			if !cards(out) {
				f.t.Fatalf("%s: a clean build has no such file", p)
			}
			continue
		}
		n++
		var now carried
		if was, known := f.pages[p]; known && b.All.Sum(was.read) == was.print {
			now = was
			f.kept++
		} else if now.data, now.read, err = out.Record(); err != nil {
			f.t.Fatal(err)
		} else {
			now.print = b.All.Sum(now.read)
			f.remade++
		}
		f.pages[p] = now
		if !bytes.Equal(now.data, byPath[p]) {
			f.t.Fatalf("%s differs from that of a clean build:\n%s", p, firstDifference(now.data, byPath[p]))
		}
	}
	if n != len(files) {
		f.t.Fatalf("%d files, a clean build has %d", n, len(files))
	}
	f.publish(s, byPath, want)
	return true
}

// firstDifference shows where two pages part.
func firstDifference(got, want []byte) string {
	i := 0
	for i < len(got) && i < len(want) && got[i] == want[i] {
		i++
	}
	around := func(b []byte) []byte { return b[min(max(i-120, 0), len(b)):min(i+120, len(b))] }
	return fmt.Sprintf("…%s…\nclean:\n…%s…", around(got), around(want))
}

// After any edits, and on any other day, a build that remembers gives what a clean build gives: the same complaints, the same
// files, byte for byte. An output whose fingerprint is as it was keeps the bytes that it had.
func TestABuildThatRemembersIsACleanBuild(t *testing.T) {
	t.Parallel()
	first, sequences := uint64(0), 2 // every tenth sequence, of which this is one, has the cards
	if testing.Short() {
		first, sequences = 1, 1 // one of few steps, with a fault and a spare
	}
	if long {
		sequences = 500
	}
	var mu sync.Mutex
	kept, remade, broken, spares := 0, 0, 0, 0
	room := NewPhotoCache() // the photos are the same in all
	t.Run("sequences", func(t *testing.T) {
		for seed := first; seed < first+uint64(sequences); seed++ {
			t.Run(fmt.Sprint(seed), func(t *testing.T) {
				t.Parallel()
				f, faults := follow(t, seed, room)
				mu.Lock()
				defer mu.Unlock()
				kept, remade, spares, broken = kept+f.kept, remade+f.remade, spares+f.spares, broken+faults
			})
		}
	})
	t.Logf("%d sequences: %d outputs kept, %d made, %d saves with errors", sequences, kept, remade, broken)
	if kept == 0 || spares == 0 {
		t.Errorf("%d outputs were ever kept, %d spares kept", kept, spares)
	}
}

// follow makes a sequence of edits and follows it with a build that remembers. It tells how many saves had errors.
func follow(t *testing.T, seed uint64, room *PhotoCache) (f *follower, broken int) {
	s := newScribbler(t, seed)
	f = &follower{t: t, memory: new(Memory), room: room, pages: map[string]carried{}, on: demoDay, target: filepath.Join(t.TempDir(), "www")}
	f.build(s, nil, seed%10 == 0)
	var back []string // what was taken back since the last build
	for range 1 + s.rng.IntN(4) {
		before := maps.Clone(s.files)
		touched := one(s, scribbles...)(s)
		if s.rng.IntN(4) == 0 {
			touched = append(touched, one(s, scribbles...)(s)...)
		}
		told := append([]string{}, append(back, touched...)...)
		back = nil
		if s.rng.IntN(3) == 0 {
			told = nil // the build has to find out by itself
		}
		f.meddle(s)
		f.on = s.day(f.on)
		t.Logf("%d: %v, on %v", seed, touched, f.on)
		if !f.build(s, told, seed%10 == 0) {
			broken++
			if s.rng.IntN(5) > 0 { // the grower takes it back
				s.files, back = before, touched
			}
		}
	}
	return f, broken
}

package site

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
)

// absent hides a file from some looks at it, counted from zero: of its folder's listings and of its own openings.
type absent struct {
	fstest.MapFS
	file  string
	away  func(look int64) bool
	looks *atomic.Int64
}

func (a absent) gone() bool { return a.away(a.looks.Add(1) - 1) }

func (a absent) Open(name string) (fs.File, error) {
	if name == a.file && a.gone() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return a.MapFS.Open(name)
}

func (a absent) ReadDir(name string) ([]fs.DirEntry, error) {
	all, err := a.MapFS.ReadDir(name)
	if name == path.Dir(a.file) && a.gone() {
		all = slices.DeleteFunc(all, func(e fs.DirEntry) bool { return path.Join(name, e.Name()) == a.file })
	}
	return all, err
}

// Whenever a file was away in a publish, whether that failed or went on without it, the next one is as good as the first
// of all: what was not read is never taken for what an inventory saw.
func TestAFileThatWasAwayComesBack(t *testing.T) {
	t.Parallel()
	files := fstest.MapFS{}
	for name, text := range map[string]string{
		"journal.yaml":               "title: Bench\ngrower: Wren\naddress: https://bench.example/\n",
		"tanks/trough/tank.md":       "---\nname: The trough\nbegan: 2026-01-10\n---\n",
		"tanks/trough/2026-04-18.md": "---\ntitle: One\nlots:\n  - {lot: TR-1, plant: heteranthera-zosterifolia, form: cuttings, count: 5}\n---\n",
		"tanks/trough/2026-05-18.md": "---\ntitle: Two\n---\n",
		"tanks/nano/tank.md":         "---\nname: The nano\nbegan: 2026-02-10\n---\n",
		"pages/about.md":             "---\ntitle: About\n---\n\nWords.\n",
		"plants/anubias-nana.md":     "---\ntaxon: Anubias barteri var. nana\n---\n",
	} {
		files[name] = &fstest.MapFile{Data: []byte(text), ModTime: demoDay.Time().AddDate(0, 0, -30)}
	}
	marked := func(dir string) string {
		sum, err := fingerprint.Files(os.DirFS(dir))
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Sprint(sum)
	}
	o := Options{On: demoDay, Program: "a test"}
	publish := func(fsys fs.FS, to string) (Published, error) {
		return Publish(context.Background(), fsys, to, o, func(journal.Complaints) {})
	}
	whole := filepath.Join(t.TempDir(), "www")
	if _, err := publish(files, whole); err != nil {
		t.Fatal(err)
	}
	most, without := int64(0), 0
	for _, file := range slices.Sorted(maps.Keys(files)) {
		for pattern := range 1 << 4 { // of the first four looks at it, which; the later ones find it
			if testing.Short() && pattern != 6 {
				continue
			}
			var looks atomic.Int64
			site := filepath.Join(t.TempDir(), "www")
			done, err := publish(absent{files, file, func(look int64) bool { return look < 4 && pattern>>look&1 == 1 }, &looks}, site)
			most = max(most, looks.Load())
			if err == nil && done.Files > 0 && marked(site) != marked(whole) {
				without++
			}
			if _, err := publish(files, site); err != nil {
				t.Fatal(err)
			}
			if marked(site) != marked(whole) {
				t.Errorf("%s was away at looks %04b: the next publish does not have it", file, pattern)
			}
		}
	}
	if most < 2 || most > 4 || without == 0 {
		t.Errorf("a file was looked at %d times at most, and %d sites lacked one: the test sees too little", most, without)
	}
}

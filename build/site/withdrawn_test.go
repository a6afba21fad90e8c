package site

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"slipleaf/build/journal"
)

// A sheet that is withdrawn is gone from the site, from the spare and from the lists beside it with the same publish; and
// the spare holds nothing that the site has not.
func TestWithdrawnLeavesTheSpare(t *testing.T) {
	files := fstest.MapFS{}
	put := func(name, text string, day int) {
		files[name] = &fstest.MapFile{Data: []byte(text), ModTime: time.Date(2026, 1, day, 0, 0, 0, 0, time.UTC)}
	}
	put("journal.yaml", "title: Bench\ngrower: Wren\naddress: https://bench.example/\n", 1)
	put("tanks/trough/tank.md", "---\nname: The trough\nbegan: 2026-01-10\n---\n", 1)
	put("tanks/trough/2026-04-18.md", "---\ntitle: One\nlots:\n  - {lot: TR-1, plant: heteranthera-zosterifolia, form: cuttings, count: 5}\n---\n", 1)
	const code, other = "0123456789abcdefghjkmnpqr", "0123456789abcdefghjkmnpqs"
	put("sent/a.md", "---\nlot: TR-1\ncount: 1\nsent: 2026-05-01\ncode: "+code+"\n---\n", 1)
	put("sent/b.md", "---\nlot: TR-1\ncount: 1\nsent: 2026-05-01\ncode: "+other+"\n---\n", 1)
	target := filepath.Join(t.TempDir(), "www")
	publish := func() {
		t.Helper()
		_, err := Publish(context.Background(), files, target, Options{On: demoDay, Program: "a test", spareFrom: 1}, func(cs journal.Complaints) {
			if cs.Errors() > 0 {
				t.Fatal(cs)
			}
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	publish()
	put("pages/about.md", "---\ntitle: About\n---\n\nWords.\n", 2)
	publish()
	if _, err := os.Stat(beside(target, spareFolder)); err != nil {
		t.Fatal("no spare: ", err)
	}
	delete(files, "sent/a.md")
	publish()
	err := filepath.WalkDir(filepath.Dir(target), func(p string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if strings.Contains(p, code) {
			t.Errorf("%s is still there", p)
		}
		if d.Type().IsRegular() && d.Name() != storeName && strings.Contains(read(t, p), code) {
			t.Errorf("%s still tells it", p)
		}
		rel, inSpare := strings.CutPrefix(p, beside(target, spareFolder)+string(filepath.Separator))
		if inSpare && d.Type().IsRegular() && d.Name() != besideMark && read(t, filepath.Join(target, rel)) != read(t, p) {
			t.Errorf("the spare's %s is not the site's", rel)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(target, "sheets", other, "index.html")); err != nil {
		t.Error(err)
	}
}

// A publish that has nothing to do clears what a killed one left behind, which had done all but that.
func TestNothingToDoClearsLeftovers(t *testing.T) {
	files := fstest.MapFS{"journal.yaml": {Data: []byte("title: Bench\ngrower: Wren\n"), ModTime: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)}}
	target := filepath.Join(t.TempDir(), "www")
	publish := func() Published {
		t.Helper()
		done, err := Publish(context.Background(), files, target, Options{On: demoDay, Program: "a test"}, func(journal.Complaints) {})
		if err != nil {
			t.Fatal(err)
		}
		return done
	}
	publish()
	for _, what := range []string{stageFolder, nextFolder, asideFolder} {
		if err := os.MkdirAll(filepath.Join(beside(target, what), "tanks"), 0o755); err != nil {
			t.Fatal(err)
		}
		mark(t, target, beside(target, what))
		if done := publish(); done.Made > 0 || done.Written > 0 {
			t.Errorf("with a %s folder it was not idle: %+v", what, done)
		}
		assertAlone(t, target)
	}
}

// What stays in a site comes back when a publish was killed between the exchange and its return.
func TestWhatStaysComesBack(t *testing.T) {
	target := filepath.Join(t.TempDir(), "www")
	place(t, target, file("index.html", "old"))
	kept := filepath.Join(target, "CNAME")
	if err := os.WriteFile(kept, []byte("bench.example"), 0o644); err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{"journal.yaml": {Data: []byte("title: Bench\ngrower: Wren\n")}}
	o := Options{On: demoDay, Program: "a test", Keep: []string{"CNAME"}}
	publish := func() {
		t.Helper()
		if _, err := Publish(context.Background(), files, target, o, func(journal.Complaints) {}); err != nil {
			t.Fatal(err)
		}
		if read(t, kept) != "bench.example" {
			t.Error("what was to stay is gone")
		}
	}
	publish()
	if err := os.MkdirAll(beside(target, stageFolder), 0o755); err != nil {
		t.Fatal(err)
	}
	mark(t, target, beside(target, stageFolder))
	if err := os.Rename(kept, filepath.Join(beside(target, stageFolder), "CNAME")); err != nil {
		t.Fatal(err)
	}
	o.Keep = nil
	publish()
	assertAlone(t, target)
}

// A file that was put back with its old size and time passes for unchanged, unless all is looked at anew.
func TestAnewLooksAtEveryFile(t *testing.T) {
	old := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	files := fstest.MapFS{"journal.yaml": {Data: []byte("title: Bench\ngrower: Wren\n"), ModTime: old}}
	target := filepath.Join(t.TempDir(), "www")
	publish := func(anew bool) string {
		t.Helper()
		if _, err := Publish(context.Background(), files, target, Options{On: demoDay, Program: "a test", Anew: anew}, func(journal.Complaints) {}); err != nil {
			t.Fatal(err)
		}
		return read(t, filepath.Join(target, "index.html"))
	}
	publish(false)
	files["journal.yaml"] = &fstest.MapFile{Data: []byte("title: Bread\ngrower: Wren\n"), ModTime: old}
	if got := publish(false); strings.Contains(got, "Bread") {
		t.Fatal("it was noticed all the same: the test shows nothing")
	}
	if got := publish(true); !strings.Contains(got, "Bread") {
		t.Error("--anew did not notice it")
	}
}

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

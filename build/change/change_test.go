package change

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"pgregory.net/rapid"

	"slipleaf/build/disk"
)

var noon = time.Date(2026, 5, 2, 12, 0, 0, 0, time.UTC)

// holds reads all files of a folder but those that begin with a point.
func holds(t testing.TB, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			if err == nil && p != dir && strings.HasPrefix(e.Name(), ".") {
				return fs.SkipDir
			}
			return err
		}
		data, err := os.ReadFile(p)
		rel, _ := filepath.Rel(dir, p)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func open(t testing.TB, dir string) *Desk {
	t.Helper()
	d, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	return d
}

// names that changes are drawn over.
var names = []string{"journal.yaml", "tanks/a/2026-05-01.md", "tanks/b/tank.md", "sent/one.md", "sent/two.md", "plants/x.md"}

func drawContent(t *rapid.T, label string) []byte {
	switch rapid.IntRange(0, 3).Draw(t, label) {
	case 0:
		return nil
	case 1:
		return []byte{}
	}
	return []byte(rapid.StringN(1, 40, -1).Draw(t, label+" text"))
}

func drawChange(t *rapid.T, now map[string]string) Change {
	var c Change
	c.What = rapid.String().Draw(t, "what")
	for _, n := range rapid.SliceOfNDistinct(rapid.SampledFrom(names), 1, 3, rapid.ID[string]).Draw(t, "files") {
		f := File{Path: n, After: drawContent(t, n)}
		if old, ok := now[n]; ok {
			f.Before = []byte(old)
		}
		c.Files = append(c.Files, f)
	}
	return c
}

func apply(now map[string]string, files []File) map[string]string {
	out := maps.Clone(now)
	for _, f := range files {
		if f.After == nil {
			delete(out, f.Path)
		} else {
			out[f.Path] = string(f.After)
		}
	}
	return out
}

// Whatever is changed and taken back in whatever order, the folder holds what a list of states says, and what the judge was
// shown beforehand is what then lies on the disk.
func TestChangesAndTakingBack(t *testing.T) {
	root := t.TempDir()
	n := 0
	rapid.Check(t, func(rt *rapid.T) {
		n++
		dir := filepath.Join(root, fmt.Sprint(n))
		if err := os.Mkdir(dir, 0o755); err != nil {
			rt.Fatal(err)
		}
		states := []map[string]string{{}}
		for range rapid.IntRange(1, 8).Draw(rt, "steps") {
			d, err := Open(dir) // as each command does
			if err != nil {
				rt.Fatal(err)
			}
			now := states[len(states)-1]
			if rapid.IntRange(0, 2).Draw(rt, "undo") == 0 {
				last, err := d.Last()
				if (err != nil) != (len(states) == 1) {
					rt.Fatalf("%d states, %v", len(states), err)
				}
				if err == nil {
					if err := d.Undo(t.Context(), last); err != nil {
						rt.Fatal(err)
					}
					states = states[:len(states)-1]
				}
			} else {
				c := drawChange(rt, now)
				shown := fs.FS(With(os.DirFS(dir), c.Files))
				seen := map[string]string{}
				err := fs.WalkDir(shown, ".", func(p string, e fs.DirEntry, err error) error {
					if err != nil || e.IsDir() {
						if err == nil && p != "." && strings.HasPrefix(e.Name(), ".") {
							return fs.SkipDir
						}
						return err
					}
					data, err := fs.ReadFile(shown, p)
					seen[p] = string(data)
					return err
				})
				if err != nil {
					rt.Fatal(err)
				}
				if err := d.Make(t.Context(), c, noon); err != nil {
					rt.Fatal(err)
				}
				states = append(states, apply(now, c.Files))
				if !maps.Equal(seen, states[len(states)-1]) {
					rt.Fatalf("shown %q, written %q", seen, states[len(states)-1])
				}
				if len(states) > kept+1 { // the oldest can no longer be taken back
					states = states[1:]
				}
			}
			d.Close()
			if got := holds(rt2{t, rt}, dir); !maps.Equal(got, states[len(states)-1]) {
				rt.Fatalf("%q, want %q", got, states[len(states)-1])
			}
		}
	})
}

// rt2 lets a helper of tests fail a drawn case.
type rt2 struct {
	testing.TB
	rt *rapid.T
}

func (r rt2) Fatal(args ...any) { r.rt.Fatal(args...) }

// A program can be killed between any two steps on the disk. Whatever had been done by then, the next one finds all as it
// was before: nobody was told of the change.
func TestKilledBetweenAnyTwoSteps(t *testing.T) {
	files := []File{{"tanks/a/2026-05-01.md", []byte("old"), []byte("new")}, {"sent/one.md", nil, []byte("x")}, {"plants/x.md", []byte("gone soon"), nil}}
	back := []File{{files[0].Path, []byte("new"), []byte("old")}, {files[1].Path, []byte("x"), nil}, {files[2].Path, nil, []byte("gone soon")}}
	before := map[string]string{"tanks/a/2026-05-01.md": "old", "plants/x.md": "gone soon"}
	for _, undoing := range []bool{false, true} {
		for done := range len(files) + 1 {
			dir := t.TempDir()
			d := open(t, dir)
			if err := d.carryOut([]File{{files[0].Path, nil, files[0].Before}, {files[2].Path, nil, files[2].Before}}); err != nil {
				t.Fatal(err)
			}
			want, steps, r := before, files, record{What: "it", Files: files}
			if undoing {
				if err := d.Make(t.Context(), Change{"it", files}, noon); err != nil {
					t.Fatal(err)
				}
				want, steps, r = apply(before, files), back, record{What: "it", Files: files, Undoing: true}
			}
			if err := errors.Join(d.keep(".undo/00000001.json", r), d.carryOut(steps[:done])); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, "tanks/a", disk.TempPrefix+"half"), []byte("ha"), 0o600); err != nil {
				t.Fatal(err)
			}
			d = open(t, dir)
			if got := holds(t, dir); !maps.Equal(got, want) {
				t.Errorf("undoing %v, %d of %d steps: %q, want %q", undoing, done, len(steps), got, want)
			}
			if last, err := d.Last(); (err == nil) != undoing || undoing && d.Undo(t.Context(), last) != nil {
				t.Errorf("undoing %v, %d of %d steps: %+v, %v", undoing, done, len(steps), last, err)
			}
		}
	}
}

func meanwhile(err error, name string) bool {
	var m *MeanwhileError
	return errors.As(err, &m) && m.Path == name
}

// What somebody wrote by hand meanwhile is never written over, by a change, by taking one back or by a finished one.
func TestHandsAreNeverWrittenOver(t *testing.T) {
	dir := t.TempDir()
	d := open(t, dir)
	c := Change{"write", []File{{"journal.yaml", nil, []byte("a")}, {"sent/one.md", nil, []byte("b")}}}
	if err := d.Make(t.Context(), c, noon); err != nil {
		t.Fatal(err)
	}
	byHand := func(text string) {
		if err := os.WriteFile(filepath.Join(dir, "journal.yaml"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	byHand("by hand")
	want := map[string]string{"journal.yaml": "by hand", "sent/one.md": "b"}
	if err := d.Make(t.Context(), Change{"again", []File{{"sent/one.md", []byte("b"), []byte("c")}, {"journal.yaml", []byte("a"), []byte("z")}}}, noon); !meanwhile(err, "journal.yaml") {
		t.Error(err)
	}
	last, err := d.Last()
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Undo(t.Context(), last); !meanwhile(err, "journal.yaml") {
		t.Error(err)
	}
	if _, err := d.begin(record{What: "half", Files: []File{{"journal.yaml", []byte("a"), []byte("z")}}}); err != nil {
		t.Fatal(err)
	}
	open(t, dir)
	if got := holds(t, dir); !maps.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// What was left half written of a file that no change is kept of, as when a name is erased, goes with the next opening.
func TestHalvesAreCleared(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"sent", "friends", "."} {
		if err := errors.Join(os.MkdirAll(filepath.Join(dir, name), 0o755), os.WriteFile(filepath.Join(dir, name, disk.TempPrefix+"half"), []byte("ha"), 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	open(t, dir)
	if left := everyFile(t, dir); len(left) > 0 {
		t.Errorf("left lying: %v", left)
	}
}

// Nothing of what was erased stays among the changes, and other changes can still be taken back.
func TestForgottenIsForgotten(t *testing.T) {
	dir := t.TempDir()
	d := open(t, dir)
	for i, f := range []File{{"sent/one.md", nil, []byte("name: Zelda Canary")}, {"plants/x.md", nil, []byte("x")}, {"sent/one.md", []byte("name: Zelda Canary"), []byte("name: erased")}} {
		if err := d.Make(t.Context(), Change{fmt.Sprint(i), []File{f}}, noon); err != nil {
			t.Fatal(err)
		}
	}
	if n, err := d.Forget(func(f File) bool { return f.Path == "sent/one.md" }); n != 2 || err != nil {
		t.Fatal(n, err)
	}
	for name, data := range everyFile(t, dir) {
		if strings.Contains(data, "WmVsZGEgQ2FuYXJ5") || strings.Contains(data, "Canary") {
			t.Errorf("%s still holds the name", name)
		}
	}
	if p, err := d.Last(); err != nil || p.What != "1" {
		t.Errorf("%+v, %v", p, err)
	}
}

func everyFile(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, p))
		out[p] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Links lead nowhere: neither out of the journal, nor from one of its folders into another.
func TestLinksLeadNowhere(t *testing.T) {
	elsewhere := t.TempDir()
	if err := os.WriteFile(filepath.Join(elsewhere, "one.md"), []byte("theirs"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, link := range []string{"sent", ".undo", "sent/one.md"} {
		dir := t.TempDir()
		if err := os.Mkdir(filepath.Join(dir, "plants"), 0o755); err != nil {
			t.Fatal(err)
		}
		for _, to := range []string{elsewhere, filepath.Join(elsewhere, "one.md"), "plants"} {
			at := filepath.Join(dir, link)
			os.RemoveAll(filepath.Join(dir, "sent"))
			os.RemoveAll(filepath.Join(dir, ".undo"))
			os.MkdirAll(filepath.Dir(at), 0o755)
			if err := os.Symlink(to, at); err != nil {
				t.Skip("no links here: ", err)
			}
			d, err := Open(dir)
			if err == nil {
				err = d.Make(t.Context(), Change{"write", []File{{"sent/one.md", nil, []byte("ours")}}}, noon)
				d.Close()
			}
			if err == nil {
				t.Errorf("%s → %s was followed", link, to)
			}
			if got := holds(t, elsewhere); !maps.Equal(got, map[string]string{"one.md": "theirs"}) {
				t.Fatalf("%s → %s: %q", link, to, got)
			}
			if got := everyFile(t, filepath.Join(dir, "plants")); len(got) > 0 {
				t.Errorf("%s → %s: %q", link, to, got)
			}
		}
	}
}

// Names that leave the journal or hide in it are refused before anything is written.
func TestNamesOutsideAreRefused(t *testing.T) {
	d := open(t, t.TempDir())
	for _, name := range []string{"", ".", "..", "../x", "/etc/passwd", "a/../b", ".undo/1.json", "tanks/.x/a.md", "a//b", "sent/one.md/"} {
		if err := d.Make(t.Context(), Change{"x", []File{{name, nil, []byte("x")}}}, noon); err == nil {
			t.Errorf("%q was written", name)
		}
	}
	if err := d.Make(t.Context(), Change{"x", []File{{"a", nil, []byte("1")}, {"a", nil, []byte("2")}}}, noon); err == nil {
		t.Error("one file twice")
	}
	if _, err := d.Last(); !errors.Is(err, ErrNothing) {
		t.Error(err)
	}
}

// What somebody put into .undo/ of a journal harms nothing: a change that names files elsewhere is damaged, and too many files
// are said.
func TestAHostileListOfChanges(t *testing.T) {
	for _, name := range []string{"../x", "/etc/x", ".undo/00000001.json", "a/../../x", ".git/hooks/post-commit", "."} {
		dir := t.TempDir()
		undo := filepath.Join(dir, ".undo", "00000001.json")
		text := fmt.Sprintf(`{"what":"x","files":[{"path":%q,"after":"eA=="}]}`, name) // under way: to be taken back
		if err := errors.Join(os.Mkdir(filepath.Dir(undo), 0o700), os.WriteFile(undo, []byte(text), 0o600)); err != nil {
			t.Fatal(err)
		}
		d := open(t, dir)
		if _, err := d.Last(); err == nil || !strings.Contains(err.Error(), "damaged") {
			t.Errorf("%s: %v", name, err)
		}
		if err := d.Make(t.Context(), Change{"x", []File{{"a", nil, []byte("1")}}}, noon); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	dir := t.TempDir()
	for i := range mostNames + 1 {
		at := filepath.Join(dir, ".undo", fmt.Sprintf("%08d.json", i))
		if err := errors.Join(os.MkdirAll(filepath.Dir(at), 0o700), os.WriteFile(at, []byte("{}"), 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	if d, err := Open(dir); err == nil || !strings.Contains(err.Error(), "move it away") {
		t.Errorf("%v, %v", d, err)
	}
}

func TestOnlyTheOwnerReadsRecords(t *testing.T) {
	dir := t.TempDir()
	d := open(t, dir)
	if err := d.Make(t.Context(), Change{"x", []File{{"sent/one.md", nil, []byte("x")}, {"journal.yaml", nil, []byte("x")}}}, noon); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]fs.FileMode{"sent/one.md": 0o600, ".undo": 0o700 | fs.ModeDir, ".undo/00000001.json": 0o600, "journal.yaml": 0o644} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Mode() != want {
			t.Errorf("%s: %v, %v", name, info.Mode(), err)
		}
	}
}

// What With shows is a file system as the standard library wants it.
func TestWithIsAFileSystem(t *testing.T) {
	base := fstest.MapFS{"journal.yaml": {Data: []byte("a")}, "tanks/a/tank.md": {Data: []byte("b")}, "plants/x.md": {Data: []byte("c")}}
	w := With(base, []File{{"tanks/b/tank.md", nil, []byte("new")}, {"plants/x.md", []byte("c"), nil}, {"journal.yaml", []byte("a"), []byte("z")}})
	if err := fs.WalkDir(w, ".", func(string, fs.DirEntry, error) error { return nil }); err != nil {
		t.Fatal(err)
	}
	entries, err := fs.ReadDir(w, "tanks")
	if err != nil || !slices.EqualFunc(entries, []string{"a", "b"}, func(e fs.DirEntry, n string) bool { return e.Name() == n && e.IsDir() }) {
		t.Errorf("%v, %v", entries, err)
	}
	if _, err := fs.Stat(w, "plants/x.md"); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
}

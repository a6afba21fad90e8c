package site

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipleaf/build/theme"
)

func place(t *testing.T, target string, files ...theme.File) Placed {
	t.Helper()
	p, err := Place(context.Background(), target, files)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func file(path, text string) theme.File { return theme.File{Path: path, Data: []byte(text)} }

func read(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestPlaceKeepsWhatDidNotChange(t *testing.T) {
	target := filepath.Join(t.TempDir(), "www")
	if p := place(t, target, file("index.html", "one"), file("a/b.html", "two")); p.Written != 3 || p.Unchanged != 0 {
		t.Fatalf("first: %+v", p) // two pages and the marker
	}
	old := time.Date(2020, 1, 2, 3, 4, 5, 0, time.UTC)
	if err := os.Chtimes(filepath.Join(target, "index.html"), old, old); err != nil {
		t.Fatal(err)
	}
	if p := place(t, target, file("index.html", "one"), file("a/b.html", "three"), file("c.css", "x")); p.Written != 2 || p.Unchanged != 2 || p.Removed != 0 {
		t.Fatalf("second: %+v", p)
	}
	info, err := os.Stat(filepath.Join(target, "index.html"))
	if err != nil || !info.ModTime().Equal(old) {
		t.Errorf("the unchanged page's time is %v, %v", info.ModTime(), err)
	}
	if got := read(t, filepath.Join(target, "a/b.html")); got != "three" {
		t.Errorf("a/b.html holds %q", got)
	}
	if p := place(t, target, file("index.html", "one")); p.Removed != 2 {
		t.Fatalf("third: %+v", p)
	}
	if _, err := os.Stat(filepath.Join(target, "a")); !os.IsNotExist(err) {
		t.Errorf("the emptied folder is still there: %v", err)
	}
}

func TestPlaceMakesTheFoldersAboveIt(t *testing.T) {
	target := filepath.Join(t.TempDir(), "a", "b", "www")
	place(t, target, file("index.html", "one"))
	if got := read(t, filepath.Join(target, "index.html")); got != "one" {
		t.Errorf("the page holds %q", got)
	}
}

func TestPlaceWritesNothingWhenNothingChanged(t *testing.T) {
	target := filepath.Join(t.TempDir(), "www")
	place(t, target, file("index.html", "one"))
	before, err := os.Stat(target)
	if err != nil {
		t.Fatal(err)
	}
	if p := place(t, target, file("index.html", "one")); p.Written != 0 || p.Unchanged != 2 {
		t.Errorf("%+v", p)
	}
	after, err := os.Stat(target)
	if err != nil || !os.SameFile(before, after) {
		t.Errorf("the folder was exchanged without need (%v)", err)
	}
}

func TestPlaceRefusesAFolderThatIsNotOurs(t *testing.T) {
	target := t.TempDir()
	letter := filepath.Join(target, "letter.txt")
	if err := os.WriteFile(letter, []byte("dear"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Place(context.Background(), target, []theme.File{file("index.html", "one")})
	if !errors.Is(err, ErrNotOurs) || !strings.Contains(err.Error(), "--to") {
		t.Fatalf("error %v", err)
	}
	if read(t, letter) != "dear" {
		t.Error("the folder was touched")
	}
}

func TestPlaceRefusesPathsThatLeaveTheSite(t *testing.T) {
	for _, bad := range []string{"../x", "/x", "", ".", "a/../../x"} {
		if _, err := Place(context.Background(), filepath.Join(t.TempDir(), "www"), []theme.File{file(bad, "x")}); err == nil {
			t.Errorf("%q was written", bad)
		}
	}
	if _, err := Place(context.Background(), filepath.Join(t.TempDir(), "www"), []theme.File{file("a", "x"), file("a", "y")}); err == nil {
		t.Error("two files of one path were written")
	}
}

func TestPlaceStoppedLeavesTheOldSite(t *testing.T) {
	target := filepath.Join(t.TempDir(), "www")
	place(t, target, file("index.html", "old"))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Place(ctx, target, []theme.File{file("index.html", "new")}); !errors.Is(err, context.Canceled) {
		t.Fatalf("error %v", err)
	}
	if read(t, filepath.Join(target, "index.html")) != "old" {
		t.Error("the old site was changed")
	}
	assertAlone(t, target)
}

func TestPlaceRecoversWhatACrashLeft(t *testing.T) {
	target := filepath.Join(t.TempDir(), "www")
	place(t, target, file("index.html", "old"))
	// As after a crash between moving the old site aside and moving the new one in, with half a new one lying about.
	mark(t, target, target)
	if err := os.Rename(target, beside(target, asideFolder)); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(beside(target, stageFolder), "half"), 0o755); err != nil {
		t.Fatal(err)
	}
	mark(t, target, beside(target, stageFolder))
	if p := place(t, target, file("index.html", "old"), file("more.html", "x")); p.Unchanged != 2 || p.Written != 1 {
		t.Errorf("%+v", p)
	}
	assertAlone(t, target)
}

// A publish that was cut off behind its exchange left the list of the site that stands there beside that of the one before.
// The next publish takes the right one for the target's before it writes its own, whichever the two sites differ in.
func TestAListFollowsItsSite(t *testing.T) {
	for name, sites := range map[string][2][]theme.File{
		"a page is another": {{file("index.html", "one")}, {file("index.html", "two")}},
		"a page is new":     {{file("index.html", "one")}, {file("index.html", "one"), file("b.html", "b")}},
		"a page is gone":    {{file("index.html", "one"), file("b.html", "b")}, {file("index.html", "one")}},
	} {
		target := filepath.Join(t.TempDir(), "www")
		lists := [2]string{}
		now, next := beside(target, buildCache)+"/"+listName, beside(target, buildCache)+"/"+listNextName
		for i, files := range sites {
			place(t, target, files...)
			lists[i] = read(t, now)
		}
		for stands := range sites { // 0: it was cut off before its exchange
			place(t, target, sites[stands]...)
			for file, list := range map[string]string{now: lists[0], next: lists[1]} {
				if err := os.WriteFile(file, []byte(list), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			to, err := openTarget(target, Options{Named: true})
			if err != nil {
				t.Fatal(err)
			}
			unlock, err := (&placing{target: to}).begin(t.Context()) // and is cut off
			if err != nil {
				t.Fatal(err)
			}
			unlock()
			to.close()
			if read(t, now) != lists[stands] {
				t.Errorf("%s: with site %d at the target its list is\n%s", name, stands, read(t, now))
			}
		}
	}
}

// Folders beside a target that no publish to it left are somebody else's: they stay, and are named.
func TestPlaceLeavesFoldersOfOthers(t *testing.T) {
	for _, what := range []string{stageFolder, nextFolder, asideFolder, spareFolder} {
		for _, generation := range []string{"", "ANOTHER"} {
			target := filepath.Join(t.TempDir(), "www")
			place(t, target, file("index.html", "old"))
			letter := filepath.Join(beside(target, what), "letter.txt")
			if err := os.MkdirAll(filepath.Dir(letter), 0o755); err != nil {
				t.Fatal(err)
			}
			for name, text := range map[string]string{letter: "dear", filepath.Join(filepath.Dir(letter), besideMark): generation + "\n", filepath.Join(filepath.Dir(letter), marker): markerText} {
				if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			_, err := Place(context.Background(), target, []theme.File{file("index.html", "new")})
			if !errors.Is(err, ErrNotOurs) || !strings.Contains(err.Error(), beside(target, what)) {
				t.Errorf("%s of generation %q: error %v", what, generation, err)
			}
			if read(t, letter) != "dear" || read(t, filepath.Join(target, "index.html")) != "old" {
				t.Errorf("%s of generation %q: something was changed", what, generation)
			}
		}
	}
}

// mark makes a folder one that a publish to the target left.
func mark(t *testing.T, target, folder string) {
	t.Helper()
	l, ok := decodeList([]byte(read(t, filepath.Join(beside(target, buildCache), listName))))
	if !ok {
		t.Fatal("no list")
	}
	if err := os.WriteFile(filepath.Join(folder, besideMark), []byte(l.generation+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
}

// assertAlone checks that nothing lies beside a site but its caches.
func assertAlone(t *testing.T, target string) {
	t.Helper()
	left, err := os.ReadDir(filepath.Dir(target))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range left {
		if l.Name() != filepath.Base(target) && !strings.HasSuffix(l.Name(), ".cache") {
			t.Errorf("%s was left beside the site", l.Name())
		}
	}
}

// beside is the path of what lies beside a target.
func beside(target, what string) string {
	return filepath.Join(filepath.Dir(target), "."+filepath.Base(target)+"."+what)
}

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
	if p := place(t, target, file("index.html", "one"), file("a/b.html", "three"), file("c.css", "x")); p.Written != 3 || p.Unchanged != 1 || p.Removed != 0 {
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
	left, err := os.ReadDir(filepath.Dir(target))
	if err != nil || len(left) != 1 {
		t.Errorf("left beside the site: %v, %v", left, err)
	}
}

func TestPlaceMendsWhatACrashLeft(t *testing.T) {
	target := filepath.Join(t.TempDir(), "www")
	place(t, target, file("index.html", "old"))
	// As after a crash between moving the old site aside and moving the new one in, with half a new one lying about.
	if err := os.Rename(target, sibling(target, "old")); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(sibling(target, "new"), "half"), 0o755); err != nil {
		t.Fatal(err)
	}
	if p := place(t, target, file("index.html", "old"), file("more.html", "x")); p.Unchanged != 1 || p.Written != 2 {
		t.Errorf("%+v", p)
	}
	left, err := os.ReadDir(filepath.Dir(target))
	if err != nil || len(left) != 1 {
		t.Errorf("left beside the site: %v, %v", left, err)
	}
}

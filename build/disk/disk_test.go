package disk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

func openRoot(t *testing.T) (*os.Root, string) {
	t.Helper()
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	return root, dir
}

// Links, sockets and folders are not read as files; neither is a file above the limit.
func TestOnlyPlainFilesAreRead(t *testing.T) {
	root, dir := openRoot(t)
	if err := os.WriteFile(filepath.Join(dir, "plain"), []byte("words"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o755); err != nil {
		t.Fatal(err)
	}
	want := map[string]error{"plain": nil, "folder": ErrNotPlain, "absent": fs.ErrNotExist, "../" + filepath.Base(dir) + "/plain": errors.New("outside")}
	if os.Symlink("plain", filepath.Join(dir, "link")) == nil && os.Symlink("folder", filepath.Join(dir, "link-to-folder")) == nil {
		want["link"] = ErrNotPlain
		if _, err := Folder(root, "link-to-folder"); !errors.Is(err, ErrNotPlain) {
			t.Errorf("a link to a folder: %v", err)
		}
	}
	if runtime.GOOS != "windows" {
		l, err := net.Listen("unix", filepath.Join(dir, "socket"))
		if err != nil {
			t.Fatal(err)
		}
		defer l.Close()
		want["socket"] = ErrNotPlain
	}
	fsys := FS(root, 5)
	for name, wanted := range want {
		data, err := Read(root, name, 5)
		if wanted == nil && (err != nil || string(data) != "words") || wanted != nil && err == nil || errors.Is(wanted, ErrNotPlain) && !errors.Is(err, ErrNotPlain) {
			t.Errorf("%s: %q, %v", name, data, err)
		}
		if _, err := fs.ReadFile(fsys, name); (wanted == nil) != (err == nil) {
			t.Errorf("%s through the file system: %v", name, err)
		}
	}
	if _, err := Read(root, "plain", 4); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a file above the limit: %v", err)
	}
	if _, err := fs.ReadFile(FS(root, 4), "plain"); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a file above the limit, through the file system: %v", err)
	}
}

// A file is replaced, never written through: what it was linked to stays.
func TestLeaveWritesThroughNothing(t *testing.T) {
	root, dir := openRoot(t)
	victim := filepath.Join(dir, "victim")
	for name, link := range map[string]func(old, new string) error{"link": os.Symlink, "hard": os.Link} {
		if err := os.WriteFile(victim, []byte("dear"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := link(victim, filepath.Join(dir, name)); err != nil {
			t.Skip(err)
		}
		for _, put := range []func() error{
			func() error { return Leave(root, name, []byte("new"), Public) },
			func() error { return Replace(root, name, []byte("new"), Private) },
		} {
			if err := put(); err != nil {
				t.Fatal(err)
			}
			got, err := os.ReadFile(victim)
			if err != nil || string(got) != "dear" {
				t.Errorf("through a %s: %q, %v", name, got, err)
			}
		}
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 3 {
		t.Errorf("left: %v, %v", entries, err)
	}
	info, err := os.Stat(filepath.Join(dir, "hard"))
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != Private {
		t.Errorf("%v, %v", info.Mode(), err)
	}
}

// Folders are made one in another, and never through a link, though it stays within.
func TestFoldersAreMadeThroughNoLink(t *testing.T) {
	root, dir := openRoot(t)
	if err := MakeFolders(root, "a/b/c", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("a", filepath.Join(dir, "link")); err != nil {
		t.Skip(err)
	}
	for _, name := range []string{"link", "link/b", "link/new", "link/b/new"} {
		if err := MakeFolders(root, name, 0o755); !errors.Is(err, ErrNotPlain) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if entries, err := os.ReadDir(filepath.Join(dir, "a")); err != nil || len(entries) != 1 {
		t.Errorf("%v, %v", entries, err)
	}
}

// A wait for a lock ends with its context, and a lock that is let go is had.
func TestAWaitForALockEnds(t *testing.T) {
	dir := t.TempDir()
	unlock, err := Lock(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := TryLock(dir); ok {
		t.Error("two have the lock")
	}
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error)
	go func() {
		_, err := Lock(ctx, dir)
		ended <- err
	}()
	cancel()
	select {
	case err := <-ended:
		if !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the wait did not end")
	}
	unlock()
	again, ok := TryLock(dir)
	if !ok {
		t.Fatal("it is still locked")
	}
	again()
}

// A folder that is too full ends the listing.
func TestAFullFolderIsNotListed(t *testing.T) {
	root, dir := openRoot(t)
	for i := range 1001 {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprint(i)), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	fsys := FS(root, 1).(plainFS)
	for most, refused := range map[int]bool{1000: true, 1001: false, mostNames: false} {
		fsys.names = most
		list, err := fsys.ReadDir(".")
		if refused && (err == nil || !strings.Contains(err.Error(), "more than 1000 files")) || !refused && (err != nil || len(list) != 1001) {
			t.Errorf("at most %d names: %d, %v", most, len(list), err)
		}
	}
}

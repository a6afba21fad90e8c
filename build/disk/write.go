package disk

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// TempPrefix begins the names of the hidden files that become another file in one step.
const TempPrefix = ".slipleaf-new-"

// The modes of files: of those that hold somebody's name or address, and of all others, which nobody may read who may not
// read their folder.
const (
	Private fs.FileMode = 0o600
	Public  fs.FileMode = 0o644
)

// Replace puts a file in place in one step, whether or not there was one, and when it returns the file lasts through a
// power cut.
func Replace(root *os.Root, name string, data []byte, mode fs.FileMode) error {
	if err := swapIn(root, name, data, mode, true); err != nil {
		return err
	}
	return SyncDir(root, path.Dir(name))
}

// Leave is Replace for what may be lost: it does not wait for the disk.
func Leave(root *os.Root, name string, data []byte, mode fs.FileMode) error {
	return swapIn(root, name, data, mode, false)
}

func swapIn(root *os.Root, name string, data []byte, mode fs.FileMode, sync bool) error {
	temp, err := writeTemp(root, name, data, mode, sync)
	if err != nil {
		return err
	}
	if err := root.Rename(temp, name); err != nil {
		return errors.Join(err, root.Remove(temp))
	}
	return nil
}

// MakeFolders makes a folder and those above it, so that they last: what is written into a folder is lost with it. A link in
// the place of one is refused, also one that stays within root.
func MakeFolders(root *os.Root, dir string, mode fs.FileMode) error {
	if dir == "." {
		return nil
	}
	if err := MakeFolders(root, path.Dir(dir), mode); err != nil {
		return err
	}
	info, err := root.Lstat(dir)
	switch {
	case err == nil && info.IsDir():
		return nil
	case err == nil:
		return notPlain(root.Name(), dir, info.Mode())
	}
	if err := root.Mkdir(dir, mode); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return SyncDir(root, path.Dir(dir))
}

// ClearTemp removes what killed commands left in a folder: it may hold somebody's name. What cannot be removed is said by
// whoever writes there.
func ClearTemp(root *os.Root, dir string) {
	if info, err := root.Lstat(dir); err != nil || !info.IsDir() {
		return
	}
	f, err := root.Open(dir)
	if err != nil {
		return
	}
	defer f.Close()
	names, err := f.Readdirnames(-1)
	for _, n := range names {
		if err == nil && strings.HasPrefix(n, TempPrefix) {
			_ = root.Remove(path.Join(dir, n))
		}
	}
}

// writeTemp writes a hidden file beside name, which nobody else can read while it is not whole.
func writeTemp(root *os.Root, name string, data []byte, mode fs.FileMode, sync bool) (string, error) {
	temp := path.Join(path.Dir(name), TempPrefix+rand.Text()[:12])
	in, err := root.Stat(path.Dir(name))
	if err != nil {
		return "", Within(root.Name(), err)
	}
	f, err := root.OpenFile(temp, os.O_CREATE|os.O_EXCL|os.O_WRONLY, Private)
	if err != nil {
		return "", Within(root.Name(), err)
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(mode&in.Mode().Perm() | Private) // whatever the umask
	}
	if err == nil && sync {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return "", errors.Join(Within(root.Name(), err), root.Remove(temp))
	}
	return temp, nil
}

// Within names the folder in an error of the disk, which knows names below it only.
func Within(dir string, err error) error {
	var path *fs.PathError
	var link *os.LinkError
	if err == nil || strings.Contains(err.Error(), dir) || !errors.As(err, &path) && !errors.As(err, &link) {
		return err
	}
	return fmt.Errorf("%s: %w", dir, err)
}

// SyncDir makes a new name in a folder last through a power cut; where the system cannot, the file itself is safe already.
func SyncDir(root *os.Root, dir string) error {
	d, err := root.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrInvalid) && !errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("%s: %w", filepath.Join(root.Name(), filepath.FromSlash(dir)), err)
	}
	return nil
}

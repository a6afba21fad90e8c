package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
)

// FS is the folder as a file system that opens plain files and folders only. A file above most bytes is refused when all of
// it is asked for; one that is read piece by piece is its reader's to bound.
func FS(root *os.Root, most int64) fs.FS { return plainFS{root, root.FS(), most, mostNames} }

type plainFS struct {
	root  *os.Root
	all   fs.FS
	most  int64 // bytes of a file
	names int   // in a folder
}

// Open implements fs.FS.
func (p plainFS) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	f, err := Open(p.root, name)
	if err == nil {
		return f, nil
	}
	if info, no := p.root.Lstat(name); no == nil && info.IsDir() {
		return p.all.Open(name)
	}
	return nil, err
}

// ReadFile implements fs.ReadFileFS.
func (p plainFS) ReadFile(name string) ([]byte, error) { return Read(p.root, name, p.most) }

// mostNames is how many names one folder may hold: more than a whole journal may have (our choice).
const mostNames = 250_000

// ReadDir implements fs.ReadDirFS. It gives up on a folder that is too full to be one of a journal.
func (p plainFS) ReadDir(name string) ([]fs.DirEntry, error) {
	f, err := p.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	d, ok := f.(fs.ReadDirFile)
	if !ok {
		return nil, &fs.PathError{Op: "readdir", Path: name, Err: errors.New("not a folder")}
	}
	var all []fs.DirEntry
	for {
		some, err := d.ReadDir(1000)
		if all = append(all, some...); len(all) > p.names {
			return nil, &fs.PathError{Op: "readdir", Path: name, Err: fmt.Errorf("the folder holds more than %d files", p.names)}
		}
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
	}
	slices.SortFunc(all, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return all, nil
}

// Stat implements fs.StatFS.
func (p plainFS) Stat(name string) (fs.FileInfo, error) { return fs.Stat(p.all, name) }

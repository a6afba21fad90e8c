package site

import (
	"bytes"
	"encoding/gob"
	"errors"
	"os"
	"path/filepath"

	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
)

// BuildCacheDir is the folder beside a target in which a publish leaves what the next one need not do again. It may be
// deleted at any moment.
func BuildCacheDir(target string) string { return sibling(target, "build.cache") }

// storeHead begins the store, which is sealed.
const storeHead = "slipleaf build 1\n"

// storeName is the file of the cache.
const storeName = "site"

// store is what is known of a site that was put in place: what it was made from, and its files as they were left afterwards.
type store struct {
	// Program is the program's own fingerprint.
	Program string
	// Key is that of the program and of its options, Look that of a theme handed in, Theme the folder that
	// journal.yaml names. Journal is the journal that the site was made from.
	Key        fingerprint.Sum
	Look       fingerprint.Sum
	Theme      string
	Journal    inventory
	Complaints journal.Complaints
	Files      []fileState // by path, the marker among them
	Folders    []fileState // of the site, as they were left; only Path and Mod are said
	Texts      []text      // those in which nothing was wrong
	Spare      *spare      // nil: there is none

	generation string // the hash of the store as it lies on the disk; "" for one that does not
}

// fileState is a file of the site as it was left.
type fileState struct {
	Path string
	// From is the fingerprint of what it was made from, Sum that of its bytes.
	From, Sum fingerprint.Sum
	Size, Mod int64
}

// text is a text without a fault.
type text struct {
	Path  string
	Print fingerprint.Sum
	Refs  []string // scheme and name by turns
}

// spare is an older site that stands by to become the next one.
type spare struct {
	// Differs lists the files in which it differs from the site in place.
	Differs []string
	Folders []fileState
}

var errNoStore = errors.New("no store")

// readStore reads the store of a target. One that is damaged, or of another form, is as good as none.
func readStore(target string) (*store, error) {
	data, err := os.ReadFile(filepath.Join(BuildCacheDir(target), storeName))
	if err != nil {
		return nil, err
	}
	return decodeStore(data)
}

// decodeStore reads a store; any byte that changed is noticed.
func decodeStore(data []byte) (*store, error) {
	rest, hash, ok := unseal(storeHead, data)
	if !ok {
		return nil, errNoStore
	}
	s := &store{generation: hash}
	if err := gob.NewDecoder(bytes.NewReader(rest)).Decode(s); err != nil {
		return nil, errNoStore
	}
	return s, nil
}

// generationOf reads which store lies beside a target now; "" for none.
func generationOf(target string) string {
	f, err := os.Open(filepath.Join(BuildCacheDir(target), storeName))
	if err != nil {
		return ""
	}
	defer f.Close()
	head := make([]byte, len(storeHead)+hashLen)
	if n, _ := f.Read(head); n < len(head) {
		return ""
	}
	return string(head[len(storeHead):])
}

// encode is the store as it lies on the disk.
func (s *store) encode() ([]byte, error) {
	var rest bytes.Buffer
	if err := gob.NewEncoder(&rest).Encode(s); err != nil {
		return nil, err
	}
	return seal(storeHead, rest.Bytes()), nil
}

// write leaves the store for the next publish. A failure only costs it time, so it is no error of this one; the older
// store goes then, since it tells of a site that is no more.
func (s *store) write(target string) {
	dir := BuildCacheDir(target)
	name := filepath.Join(dir, storeName)
	data, err := s.encode()
	if err == nil {
		err = os.MkdirAll(dir, 0o755)
	}
	if err == nil {
		err = replace(name, data)
	}
	if err != nil {
		_ = os.Remove(name)
	}
}

// replace puts data at name in one step.
func replace(name string, data []byte) error {
	tmp := name + ".new" // of one name, so that what a crash leaves is overwritten
	if err := os.WriteFile(tmp, data, 0o644); err != nil {
		_ = os.Remove(tmp)
		return err
	}
	return os.Rename(tmp, name)
}

package site

import (
	"bytes"
	"encoding/gob"
	"errors"
	"fmt"
	"io"

	"slipleaf/build/disk"
	"slipleaf/build/facts"
	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/page"
)

// storeHead begins the store, which is sealed. The stamp of the site's folder follows in sixteen digits: a store that lies
// beside another folder, as after a copy, or in an archive from elsewhere, tells nothing of it.
const storeHead = "slipleaf build 4\n"

func storeHeadOf(stamp int64) string { return fmt.Sprintf("%s%016x\n", storeHead, stamp) }

// maxStore is how large a store may be: five times what the largest site's comes to (our choice).
const maxStore = 512 << 20

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
	Files      []fileState  // by path, the marker among them
	Made       facts.Record // what Files were made from, in their order
	Folders    []fileState  // of the site, as they were left; only Path and Mod are said
	Texts      []text       // those in which nothing was wrong
	Refs       []page.Ref   // all that they refer to
	Spare      *spare       // nil: there is none

	generation string // the hash of the store as it lies on the disk; "" for one that does not
}

// fileState is a file of the site as it was left.
type fileState struct {
	Path      string
	Sum       string // the fingerprint of its bytes: as text, which is kept and read sooner
	Size, Mod int64
}

// text is a text without a fault.
type text struct {
	Path, Print string
}

// spare is what is the same of an older site, which is kept to become the next one.
type spare struct {
	// Lacks lists the files of the site in place that it has not.
	Lacks   []string
	Folders []fileState
}

// madeFrom is what Files were made from, in their order; nil where that is not known.
func (s *store) madeFrom() *facts.Made {
	if s == nil {
		return nil
	}
	m, ok := s.Made.Read()
	if !ok || m.Files() != len(s.Files) {
		return nil
	}
	return m
}

var errNoStore = errors.New("no store")

// readStore reads the store of a target. One that is damaged, of another form or of another folder is as good as none.
func readStore(t *target) (*store, error) {
	stamp, ok := t.stamp()
	if !ok {
		return nil, errNoStore
	}
	data, err := disk.Read(t.root, t.storePath(), maxStore)
	if err != nil {
		return nil, err
	}
	return decodeStore(data, stamp)
}

func (t *target) storePath() string { return at(t.sibling(buildCache), storeName) }

// decodeStore reads a store; any byte that changed is noticed.
func decodeStore(data []byte, stamp int64) (*store, error) {
	rest, hash, ok := unseal(storeHeadOf(stamp), data)
	if !ok {
		return nil, errNoStore
	}
	s := &store{generation: hash}
	if err := gob.NewDecoder(bytes.NewReader(rest)).Decode(s); err != nil {
		return nil, errNoStore
	}
	return s, nil
}

// storeGeneration reads which store lies beside the target now; "" for none.
func (t *target) storeGeneration() string {
	f, err := disk.Open(t.root, t.storePath())
	if err != nil {
		return ""
	}
	defer f.Close()
	n := len(storeHeadOf(0))
	head := make([]byte, n+hashLen)
	if _, err := io.ReadFull(f, head); err != nil {
		return ""
	}
	return string(head[n:])
}

// encode is the store as it lies on the disk.
func (s *store) encode(stamp int64) ([]byte, error) {
	var rest bytes.Buffer
	if err := gob.NewEncoder(&rest).Encode(s); err != nil {
		return nil, err
	}
	return seal(storeHeadOf(stamp), rest.Bytes()), nil
}

// write leaves the store for the next publish. A failure only costs it time, so it is no error of this one; the older
// store goes then, since it tells of a site that is no more.
func (s *store) write(t *target) {
	stamp, ok := t.stamp()
	data, err := s.encode(stamp)
	if !ok || err != nil || disk.Leave(t.root, t.storePath(), data, disk.Private) != nil {
		_ = t.root.Remove(t.storePath())
	}
}

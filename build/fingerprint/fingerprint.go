// Package fingerprint tells by a short sum whether bytes are the same as before.
package fingerprint

import (
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
	"io/fs"
)

// Sum is the fingerprint of some bytes: the first half of their SHA-256 (FIPS 180-4). Two texts of one sum are the same
// text for all that a build has to do with. The zero Sum is of nothing that can be read.
type Sum [16]byte

// Of is the fingerprint of data.
func Of(data []byte) Sum {
	sum := sha256.Sum256(data)
	return Sum(sum[:16])
}

// Hash makes the fingerprint of what is written to it. Make it with [New].
type Hash struct{ hash.Hash }

// New makes a hash to which nothing is written yet.
func New() Hash { return Hash{sha256.New()} }

// Value is the fingerprint of all that was written.
func (h Hash) Value() Sum { return Sum(h.Sum(nil)[:16]) }

// From is the fingerprint of all that r has still to give.
func From(r io.Reader) (Sum, error) {
	h := New()
	_, err := io.Copy(h, r)
	return h.Value(), err
}

// Files is the fingerprint of all files below a folder, with their names.
func Files(fsys fs.FS) (Sum, error) {
	all := New()
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(fsys, p)
		fmt.Fprintf(all, "%q %d\n", p, len(data))
		all.Write(data)
		return err
	})
	return all.Value(), err
}

package journal

import (
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
	"io/fs"
)

// Print is the fingerprint of some bytes: the first half of their SHA-256 (FIPS 180-4). Two texts of one print are the
// same text for all that a build has to do with.
type Print [16]byte

// PrintOf is the fingerprint of data.
func PrintOf(data []byte) Print {
	sum := sha256.Sum256(data)
	return Print(sum[:16])
}

// Printer makes the fingerprint of what is written to it. Make it with [NewPrinter].
type Printer struct{ hash.Hash }

// NewPrinter makes a printer to which nothing is written yet.
func NewPrinter() Printer { return Printer{sha256.New()} }

// Print is the fingerprint of all that was written.
func (p Printer) Print() Print { return Print(p.Sum(nil)[:16]) }

// PrintFrom is the fingerprint of all that r has still to give.
func PrintFrom(r io.Reader) (Print, error) {
	p := NewPrinter()
	_, err := io.Copy(p, r)
	return p.Print(), err
}

// PrintFiles is the fingerprint of all files below a folder, with their names.
func PrintFiles(fsys fs.FS) (Print, error) {
	all := NewPrinter()
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(fsys, p)
		fmt.Fprintf(all, "%q %d\n", p, len(data))
		all.Write(data)
		return err
	})
	return all.Print(), err
}

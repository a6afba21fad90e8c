package site

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"slipleaf/build/disk"
	"slipleaf/build/fingerprint"
	"slipleaf/build/picture"
)

// keptHead begins every file of the cache, which is sealed and holds a line that lists the renditions, and these.
const keptHead = "slipleaf photo 1\n"

// keptEnding is that of the cache's files, by which they are known when old ones are cleared away.
const keptEnding = ".photo"

// maxKept is the most that the renditions of a photo come to: more than an original may have (our choice).
const maxKept = 2 * picture.MaxBytes

// keptLine describes a rendition in a file of the cache.
type keptLine struct {
	Kind                 picture.Kind
	Width, Height, Bytes int
}

func lineOf(r picture.Rendition) keptLine { return keptLine{r.Kind, r.Width, r.Height, len(r.Data)} }

// printKey names what an original becomes: a hash of its bytes and of all that decides how it is made.
func printKey(data []byte) string {
	p := fingerprint.New()
	p.Write([]byte(picture.Settings + "\n"))
	p.Write(data)
	return fmt.Sprintf("%x", p.Value())
}

var errDamaged = errors.New("the kept photo is damaged")

// pack writes renditions as a file of the cache.
func pack(rs []picture.Rendition) ([]byte, error) {
	var lines []keptLine
	for _, r := range rs {
		lines = append(lines, lineOf(r))
	}
	list, err := json.Marshal(lines)
	if err != nil {
		return nil, err
	}
	var rest bytes.Buffer
	rest.Write(append(list, '\n'))
	for _, r := range rs {
		rest.Write(r.Data)
	}
	return seal(keptHead, rest.Bytes()), nil
}

// unpack reads a file of the cache. Any byte that changed is noticed.
func unpack(file []byte) ([]picture.Rendition, error) {
	rest, _, ok := unseal(keptHead, file)
	list, data, _ := bytes.Cut(rest, []byte("\n"))
	var lines []keptLine
	if !ok || json.Unmarshal(list, &lines) != nil {
		return nil, errDamaged
	}
	var out []picture.Rendition
	for _, l := range lines {
		if l.Bytes < 0 || l.Bytes > len(data) || !l.is(data[:l.Bytes]) {
			return nil, errDamaged
		}
		out = append(out, picture.Rendition{Kind: l.Kind, Width: l.Width, Height: l.Height, Data: data[:l.Bytes]})
		data = data[l.Bytes:]
	}
	if len(out) == 0 || len(data) > 0 {
		return nil, errDamaged
	}
	return out, nil
}

// is reports whether data begins as a picture that can be published does, of the kind and the size that the line says.
func (l keptLine) is(data []byte) bool {
	if l.Kind != picture.JPEG && l.Kind != picture.PNG {
		return false
	}
	info, err := picture.Plan("", data)
	return err == nil && info.Kind == l.Kind && info.Width == l.Width && info.Height == l.Height
}

// folder opens the cache's folder, or makes it.
func (d *PhotoCache) folder(create bool) (*os.Root, error) {
	if d.beside == nil {
		return nil, fs.ErrNotExist
	}
	name := d.beside.sibling(photoCache)
	if create {
		if err := d.beside.root.Mkdir(name, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
	}
	return disk.Folder(d.beside.root, name)
}

// kept looks a photo up in the cache. What is damaged is dropped.
func (d *PhotoCache) kept(key string) ([]picture.Rendition, bool) {
	dir, err := d.folder(false)
	if err != nil {
		return nil, false
	}
	defer dir.Close()
	file, err := disk.Read(dir, key+keptEnding, maxKept)
	if err != nil {
		return nil, false
	}
	rs, err := unpack(file)
	if err != nil {
		_ = dir.Remove(key + keptEnding)
		return nil, false
	}
	return rs, true
}

// keep puts a photo into the cache. A failure only costs memory now and time at the next build, so it is no error of this
// one; ok tells of it.
func (d *PhotoCache) keep(key string, rs []picture.Rendition) (ok bool) {
	dir, err := d.folder(true)
	if err != nil {
		return false
	}
	defer dir.Close()
	file, err := pack(rs)
	return err == nil && disk.Leave(dir, key+keptEnding, file, disk.Private) == nil
}

// bytesOf gives a rendition of a photo. Where the cache has it no more, the photo is made again.
func (d *PhotoCache) bytesOf(fsys fs.FS, name, key string, r rendition) ([]byte, error) {
	if r.data != nil {
		return r.data, nil
	}
	kept, _ := d.kept(key)
	if data, ok := r.among(kept); ok {
		return data, nil
	}
	d.again.Lock()
	defer d.again.Unlock()
	kept, _ = d.kept(key) // another of its renditions may have been missed meanwhile
	if data, ok := r.among(kept); ok {
		return data, nil
	}
	file, _, err := original(fsys, name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	whole, err := bytesIn(file)
	if err != nil {
		return nil, err
	}
	if printKey(whole) != key {
		return nil, fmt.Errorf("photos/%s has changed since it was made ready; try again", name)
	}
	made, err := picture.Make(context.Background(), whole, picture.Wanted())
	if err != nil {
		return nil, err
	}
	d.keep(key, made)
	data, ok := r.among(made)
	if !ok { // the same original gave others before
		return nil, fmt.Errorf("photos/%s: %w", name, errDamaged)
	}
	return data, nil
}

// among finds a rendition's bytes.
func (r rendition) among(rs []picture.Rendition) (data []byte, ok bool) {
	i := slices.IndexFunc(rs, func(x picture.Rendition) bool { return lineOf(x) == r.keptLine })
	if i < 0 {
		return nil, false
	}
	return rs[i].Data, true
}

// clear removes from the cache what no photo of the journal needs any more, nor one that was made ahead.
func (d *PhotoCache) clear(needed map[string]bool) {
	dir, err := d.folder(false)
	if err != nil {
		return
	}
	defer dir.Close()
	disk.ClearTemp(dir, ".")
	files, err := fs.ReadDir(dir.FS(), ".")
	if err != nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, f := range files {
		if key, ours := strings.CutSuffix(f.Name(), keptEnding); ours && !needed[key] && !d.ahead[key] {
			_ = dir.Remove(f.Name())
		}
	}
}

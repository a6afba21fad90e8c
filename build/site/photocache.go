package site

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"slipleaf/build/fingerprint"
	"slipleaf/build/picture"
)

// PhotoCache is the folder beside a target in which photos that were made ready are kept for the next time. It may be
// deleted at any moment.
func PhotoCacheDir(target string) string { return sibling(target, "photos.cache") }

// keptHead begins every file of the cache, which is sealed and holds a line that lists the renditions, and these.
const keptHead = "slipleaf photo 1\n"

// keptEnding is that of the cache's files, by which they are known when old ones are cleared away.
const keptEnding = ".photo"

// keptLine describes a rendition in a file of the cache.
type keptLine struct {
	Kind                 picture.Kind
	Width, Height, Bytes int
}

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
		lines = append(lines, keptLine{r.Kind, r.Width, r.Height, len(r.Data)})
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
		if l.Bytes < 0 || l.Bytes > len(data) {
			return nil, errDamaged
		}
		out = append(out, picture.Rendition{Kind: l.Kind, Width: l.Width, Height: l.Height, Data: data[:l.Bytes]})
		data = data[l.Bytes:]
	}
	return out, nil
}

// kept looks a photo up in the cache. What is damaged is dropped.
func (d *PhotoCache) kept(key string) ([]picture.Rendition, bool) {
	if d.dir == "" {
		return nil, false
	}
	name := filepath.Join(d.dir, key+keptEnding)
	file, err := os.ReadFile(name)
	if err != nil {
		return nil, false
	}
	rs, err := unpack(file)
	if err != nil {
		_ = os.Remove(name)
		return nil, false
	}
	return rs, true
}

// keep puts a photo into the cache. A failure only costs time at the next build, so it is no error of this one.
func (d *PhotoCache) keep(key string, rs []picture.Rendition) {
	if d.dir == "" {
		return
	}
	file, err := pack(rs)
	if err != nil || os.MkdirAll(d.dir, 0o755) != nil {
		return
	}
	tmp, err := os.CreateTemp(d.dir, "*.new"+keptEnding)
	if err != nil {
		return
	}
	_, err = tmp.Write(file)
	if errors.Join(err, tmp.Close()) != nil || os.Rename(tmp.Name(), filepath.Join(d.dir, key+keptEnding)) != nil {
		_ = os.Remove(tmp.Name())
	}
}

// clear removes from the cache what no photo of the journal needs any more.
func (d *PhotoCache) clear(needed map[string]bool) {
	if d.dir == "" {
		return
	}
	files, err := os.ReadDir(d.dir)
	if err != nil {
		return
	}
	for _, f := range files {
		if key, ours := strings.CutSuffix(f.Name(), keptEnding); ours && !needed[key] {
			_ = os.Remove(filepath.Join(d.dir, f.Name()))
		}
	}
}

package preview

import (
	"bytes"
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"
	"sync"

	"slipleaf/build/page"
)

// edition is the site as one build made it. Its pages are made when they are first asked for and remembered, so that a
// save is served at the cost of the pages that are looked at. It is safe for concurrent use.
type edition struct {
	number  int64
	book    *page.Book
	outputs []page.Output // by address
	made    []makes
	styles  []string // addresses of the style sheets, always as many
}

// makes is one page, made once.
type makes struct {
	once sync.Once
	data []byte
	err  error
}

func newEdition(b *page.Book) *edition {
	out := b.Outputs()
	return &edition{book: b, outputs: out, made: make([]makes, len(out)), styles: []string{"/" + b.Theme.Styles.Path, "/" + b.Theme.Sheet.Path}}
}

func (e *edition) index(addr string) (int, bool) {
	return slices.BinarySearchFunc(e.outputs, addr, func(o page.Output, a string) int { return cmp.Compare(o.Addr, a) })
}

// has tells whether something stands at an address, without making it.
func (e *edition) has(addr string) bool { _, ok := e.index(addr); return ok }

// page gives what stands at an address; ok is false where nothing does.
func (e *edition) page(addr string) (data []byte, ok bool, err error) {
	i, ok := e.index(addr)
	if !ok {
		return nil, false, nil
	}
	m := &e.made[i]
	m.once.Do(func() {
		defer func() {
			if r := recover(); r != nil {
				m.err = fmt.Errorf("a fault in the program: %v", r) // the preview lives on, and the next save may mend it
			}
		}()
		m.data, m.err = e.outputs[i].Make()
	})
	return m.data, true, m.err
}

// find resolves the path of a request as a server of files would: a folder is its index.html. to is set where the
// address lacks its last slash.
func (e *edition) find(p string) (data []byte, ok bool, to string, err error) {
	if dir, isIndex := strings.CutSuffix(p, "/index.html"); isIndex {
		p = dir + "/"
	}
	if data, ok, err = e.page(p); ok {
		return data, true, "", err
	}
	if path.Ext(p) == "" && !strings.HasSuffix(p, "/") {
		if e.has(p + "/") {
			return nil, false, p + "/", nil
		}
	}
	return nil, false, "", nil
}

// sameBut tells whether a page reads the same in two editions but for the addresses of the styles.
func sameBut(old, new *edition, addr string) bool {
	a, ok, _, err := old.find(addr)
	if !ok || err != nil {
		return false
	}
	b, ok, _, err := new.find(addr)
	if !ok || err != nil {
		return false
	}
	return bytes.Equal(old.unstyled(a), new.unstyled(b))
}

// unstyled takes the addresses of the styles out of a page.
func (e *edition) unstyled(data []byte) []byte {
	for _, addr := range e.styles {
		if len(addr) > 1 {
			data = bytes.ReplaceAll(data, []byte(addr[1:]), nil)
		}
	}
	return data
}

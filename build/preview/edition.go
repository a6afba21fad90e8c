package preview

import (
	"bytes"
	"fmt"
	"maps"
	"path"
	"strings"
	"sync"
	"sync/atomic"

	"slipleaf/build/facts"
	"slipleaf/build/fingerprint"
	"slipleaf/build/page"
)

// edition is the site as one build made it. Its pages are made when they are first asked for and remembered, so that a
// save is served at the cost of the pages that are looked at. It is safe for concurrent use.
type edition struct {
	number int64
	site   *page.Site
	mu     sync.Mutex
	asked  map[string]*makes // what was asked for and is there, by address
	before map[string]kept   // what earlier editions made, by address
	styles []string          // addresses of the style sheets, always as many
}

// makes is one page, made once.
type makes struct {
	output page.Output
	once   sync.Once
	done   atomic.Bool
	kept
	err error
}

// kept is a page with what it was made from, and the fingerprint of that.
type kept struct {
	read  []facts.Key
	print fingerprint.Sum
	data  []byte
}

// newEdition is an edition of a site. What an older one has made, or kept from one before it, need not be made again
// where it would be the same; old may be nil.
func newEdition(b *page.Site, old *edition) *edition {
	return &edition{site: b, asked: map[string]*makes{}, before: old.all(), styles: []string{"/" + b.Theme.Styles.Path, "/" + b.Theme.Sheet.Path, "/" + b.Theme.Label.Path}}
}

// all is what an edition has made and what it still holds of earlier ones.
func (e *edition) all() map[string]kept {
	if e == nil {
		return nil
	}
	out := map[string]kept{}
	maps.Copy(out, e.before)
	e.mu.Lock()
	defer e.mu.Unlock()
	for addr, m := range e.asked {
		if m.done.Load() && m.err == nil {
			out[addr] = m.kept
		}
	}
	return out
}

// at is what is at an address; nil where nothing is.
func (e *edition) at(addr string) *makes {
	e.mu.Lock()
	defer e.mu.Unlock()
	m := e.asked[addr]
	if m == nil {
		if o, ok := e.site.Output(addr); ok { // else nothing is noted, whatever addresses are tried
			m = &makes{output: o}
			e.asked[addr] = m
		}
	}
	return m
}

// page gives what is at an address; ok is false where nothing does.
func (e *edition) page(addr string) (data []byte, ok bool, err error) {
	m := e.at(addr)
	if m == nil {
		return nil, false, nil
	}
	m.once.Do(func() {
		defer func() {
			if r := recover(); r != nil {
				m.err = fmt.Errorf("a bug in Slipleaf: %v", r) // the preview lives on, and the next save may mend it
			}
		}()
		if was, ok := e.before[addr]; ok && e.site.All.Sum(was.read) == was.print {
			m.kept = was
		} else {
			m.data, m.read, m.err = m.output.Record()
			m.print = e.site.All.Sum(m.read)
		}
		m.done.Store(true)
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
	if path.Ext(p) == "" && !strings.HasSuffix(p, "/") && e.at(p+"/") != nil {
		return nil, false, p + "/", nil
	}
	return nil, false, "", nil
}

// sameBut reports whether a page reads the same in two editions but for the addresses of the styles.
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

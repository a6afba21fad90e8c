package desk

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"

	"slipleaf/build/page"
	"slipleaf/build/words"
)

// publishPage offers to write the site.
type publishPage struct {
	Head
	Hosting []string
	Looked  bool // what would change is shown
	Parts   []changedPages
	None    bool // nothing would change
}

// changedPages are the pages that a publish makes, changes or removes.
type changedPages struct {
	Head  string
	Addrs []string
	More  int // that are not listed
}

// mostShown is how many pages of a kind are listed.
const mostShown = 20

// publish shows what a publish would change, and publishes.
func (d *Desk) publish(w http.ResponseWriter, r *http.Request, b *page.Site) {
	v := b.Locale()
	m := publishPage{Head: d.head(b, v.Text("desk.publish")), Hosting: v.List("desk.hosting")}
	if r.Method != http.MethodPost {
		d.show(w, b, http.StatusOK, "publish.html", m)
		return
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(10 * time.Minute)) // a large site takes its time
	if r.PostForm.Get("do") == "look" {
		if err := m.look(r.Context(), d, b); err != nil {
			d.show(w, b, http.StatusOK, "said.html", said{m.Head, v.Text("desk.not-published"), why(v, err)})
			return
		}
		d.show(w, b, http.StatusOK, "publish.html", m)
		return
	}
	done, after, err := d.Writer.Publish(r.Context())
	p := said{m.Head, v.Text("desk.published"), answers(v, done)}
	for line := range strings.Lines(after) {
		p.Text = append(p.Text, words.Escape(line))
	}
	if err != nil {
		p.Text = append(p.Text, why(v, err)...)
	}
	if len(done) == 0 {
		p.What = v.Text("desk.not-published")
	}
	d.show(w, b, http.StatusOK, "said.html", p)
}

// look holds the pages as they would be against those that stand.
func (m *publishPage) look(ctx context.Context, d *Desk, b *page.Site) error {
	stands := d.Writer.Published()
	v := b.Locale()
	fresh, changed, gone := changedPages{Head: v.Text("desk.pages-new")}, changedPages{Head: v.Text("desk.pages-changed")}, changedPages{Head: v.Text("desk.pages-gone")}
	made := map[string]bool{}
	for _, o := range b.Outputs() {
		if err := ctx.Err(); err != nil {
			return err
		}
		if !strings.HasSuffix(o.Addr, "/") {
			continue
		}
		name := strings.TrimPrefix(o.Addr, "/") + "index.html"
		made[name] = true
		was, err := fs.ReadFile(stands, name)
		if errors.Is(err, fs.ErrNotExist) {
			fresh.add(o.Addr)
			continue
		}
		is, merr := o.Make()
		if err := errors.Join(err, merr); err != nil {
			return err
		}
		if !bytes.Equal(was, is) {
			changed.add(o.Addr)
		}
	}
	err := fs.WalkDir(stands, ".", func(p string, e fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil // nothing was published yet
		}
		if err == nil && !e.IsDir() && path.Base(p) == "index.html" && !made[p] {
			gone.add("/" + strings.TrimSuffix(p, "index.html"))
		}
		return err
	})
	m.Looked = true
	for _, part := range []changedPages{fresh, changed, gone} {
		if len(part.Addrs) > 0 {
			m.Parts = append(m.Parts, part)
		}
	}
	m.None = len(m.Parts) == 0
	return err
}

func (c *changedPages) add(addr string) {
	if len(c.Addrs) < mostShown {
		c.Addrs = append(c.Addrs, addr)
	} else {
		c.More++
	}
}

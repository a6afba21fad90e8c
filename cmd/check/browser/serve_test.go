//go:build browser

package browser

import (
	"bytes"
	"compress/gzip"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"strings"
	"testing"
)

// mediaTypes are the types of the site's files, the same on every machine: Go's own table reads the system's.
var mediaTypes = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".json": "application/json", ".csv": "text/csv; charset=utf-8", ".xml": "application/xml", ".ics": "text/calendar; charset=utf-8",
	".txt": "text/plain; charset=utf-8", ".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg", ".webp": "image/webp",
}

// host serves a folder as a static host would: with the headers of netlify.toml, compressed, and with 404.html for
// what is not there.
type host struct {
	files fs.FS
	rules []headerRule
}

// serve serves a folder on this machine for the browser, until the test ends.
func serve(t *testing.T, dir string) (base string) {
	t.Helper()
	rules, err := readHeaderRules("netlify.toml")
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewServer(host{os.DirFS(dir), rules})
	t.Cleanup(s.Close)
	return s.URL
}

// serveBare serves a folder without the headers of netlify.toml, whose policy would keep faults from happening.
func serveBare(t *testing.T, dir string) (base string) {
	s := httptest.NewServer(host{os.DirFS(dir), nil})
	t.Cleanup(s.Close)
	return s.URL
}

func (h host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	if r.URL.Path == "/" || strings.HasSuffix(r.URL.Path, "/") {
		name = path.Join(name, "index.html")
	} else if st, err := fs.Stat(h.files, name); err == nil && st.IsDir() {
		http.Redirect(w, r, r.URL.Path+"/", http.StatusMovedPermanently)
		return
	}
	status := http.StatusOK
	data, err := fs.ReadFile(h.files, name)
	if err != nil {
		name, status = "404.html", http.StatusNotFound
		if data, err = fs.ReadFile(h.files, name); err != nil {
			http.NotFound(w, r)
			return
		}
	}
	for _, rule := range h.rules {
		if rule.matches(r.URL.Path) {
			for k, v := range rule.values {
				w.Header().Set(k, v)
			}
		}
	}
	if t, ok := mediaTypes[path.Ext(name)]; ok && w.Header().Get("Content-Type") == "" {
		w.Header().Set("Content-Type", t)
	}
	if w.Header().Get("Cache-Control") == "" {
		w.Header().Set("Cache-Control", cacheFor(name))
	}
	if compressible(name) && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		w.Header().Set("Content-Encoding", "gzip")
		data = gzipped(data)
	}
	w.WriteHeader(status)
	w.Write(data)
}

// cacheFor keeps what is named by its content for a year; the rest is asked for again each time.
func cacheFor(name string) string {
	if strings.HasPrefix(name, "look/") || strings.HasPrefix(name, "photos/") {
		return "public, max-age=31536000, immutable"
	}
	return "public, max-age=0, must-revalidate"
}

// compressible tells text from pictures, which are compressed already.
func compressible(name string) bool {
	switch path.Ext(name) {
	case ".png", ".jpg", ".jpeg", ".webp", ".avif", ".gif", ".woff2":
		return false
	}
	return true
}

// gzipped is data as a host sends it.
func gzipped(data []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write(data) // a bytes.Buffer takes everything
	z.Close()
	return b.Bytes()
}

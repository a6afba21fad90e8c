package preview

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"slipleaf/build/desk"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

// bound is the small journal as edition k has it: its title is on every page, more than once.
func bound(t testing.TB, k int) *page.Site {
	t.Helper()
	return boundOn(t, k, quantity.Date{Year: 2026, Month: 3, Day: 1})
}

func boundOn(t testing.TB, k int, on quantity.Date) *page.Site {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range small() {
		fsys[name] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(text, "small bench", fmt.Sprintf("bench %d", k)))}
	}
	b, cs, err := site.Load(context.Background(), fsys, site.Options{On: on})
	if b == nil || err != nil {
		t.Error(cs, err)
	}
	return b
}

// serveShelf serves a shelf on a port of its own.
func serveShelf(t testing.TB) (*shelf, *httptest.Server) {
	t.Helper()
	ready, stop := make(chan struct{}), make(chan struct{})
	close(ready)
	s := &server{shelf: newShelf(0), ready: ready, stop: stop, after: hasty}
	s.forms = desk.New(s.site, s.newer, nil)
	mux := http.NewServeMux()
	web := httptest.NewServer(mux)
	var port int
	if _, err := fmt.Sscanf(web.URL, "http://127.0.0.1:%d", &port); err != nil {
		t.Fatal(err)
	}
	mux.Handle("/", s.handler(port))
	t.Cleanup(func() { close(stop); web.Close() })
	return s.shelf, web
}

// Every answer is a page of one edition, byte for byte as a build of that edition alone makes it, while editions follow
// one another under 64 clients.
func TestNoAnswerIsTorn(t *testing.T) {
	const clients = 64
	requests, rebuilds := 5000, 100
	if testing.Short() {
		requests, rebuilds = 1000, 20
	}
	addrs := []string{"/", "/tanks/shelf/", "/about/", "/offers/", "/sheets/abcdefghjkmnpqrstvwxyz0123/"}
	shelf, web := serveShelf(t)
	want := make([]map[string][]byte, rebuilds+2) // by number of the edition
	books := make([]*page.Site, len(want))
	alone := func(k int) {
		b := bound(t, k)
		books[k] = b
		want[k] = map[string][]byte{}
		for _, o := range b.Outputs() {
			for _, addr := range addrs {
				if o.Addr == addr {
					want[k][addr], _ = o.Make()
				}
			}
		}
	}
	for k := 1; k < len(want); k++ {
		alone(k)
	}
	shelf.put(newEdition(books[1], nil), nil, "")

	web.Client().Transport.(*http.Transport).MaxIdleConnsPerHost = clients
	var asked atomic.Int64
	turn := make(chan chan struct{}) // a client whose turn it is waits for the rebuild, so that slow machines see as many editions
	type answer struct {
		addr string
		body []byte
	}
	answers := make([]answer, requests)
	var wg sync.WaitGroup
	for range clients {
		wg.Go(func() {
			for n := asked.Add(1); n <= int64(requests); n = asked.Add(1) {
				if n%int64(requests/rebuilds) == 0 {
					there := make(chan struct{})
					turn <- there
					<-there
				}
				addr := addrs[int(n)%len(addrs)]
				r, err := web.Client().Get(web.URL + addr)
				if err != nil {
					t.Error(err)
					continue
				}
				body, err := io.ReadAll(r.Body)
				r.Body.Close()
				if err != nil || r.StatusCode != http.StatusOK {
					t.Error(addr, r.StatusCode, err)
				}
				answers[n-1] = answer{addr, body}
			}
		})
	}
	wg.Go(func() {
		for k := range rebuilds {
			there := <-turn
			shelf.put(newEdition(books[k+2], shelf.now.Load().edition), nil, "")
			close(there)
		}
	})
	wg.Wait()

	seen := map[int64]int{}
	for _, a := range answers {
		var n int64
		if _, err := fmt.Sscan(editionOf(t, string(a.body)), &n); err != nil || n < 1 || int(n) >= len(want) {
			t.Fatal(n, err)
		}
		seen[n]++
		if whole, _ := inject(want[n][a.addr], n, nil); !bytes.Equal(whole, a.body) {
			t.Fatalf("%s of edition %d is torn", a.addr, n)
		}
	}
	t.Attr("figure", fmt.Sprintf("requests of the preview answered whole, by %d clients over %d rebuilds: %d", clients, rebuilds, len(answers)))
	if len(seen) < 10 {
		t.Errorf("only %d editions were seen: the test shows nothing", len(seen))
	}
}

// A page that is the same on another day is kept over midnight; one that says something else is made again.
func TestPagesAreKeptOverMidnight(t *testing.T) {
	first := quantity.Date{Year: 2026, Month: 3, Day: 1}
	before := newEdition(boundOn(t, 1, first), nil)
	for _, addr := range []string{"/about/", "/offers/"} {
		if _, ok, err := before.page(addr); !ok || err != nil {
			t.Fatal(addr, ok, err)
		}
	}
	after := newEdition(boundOn(t, 1, first.Add(1)), before)
	for addr, want := range map[string]bool{"/about/": true, "/offers/": false} {
		old, _, _ := before.page(addr)
		now, _, _ := after.page(addr)
		if kept := &old[0] == &now[0]; kept != want {
			t.Errorf("%s is kept: %v", addr, kept)
		}
	}
}

// While the newest save is broken, every answer is of the last edition with the complaint over it.
func TestAStateIsWhole(t *testing.T) {
	shelf, web := serveShelf(t)
	shelf.put(newEdition(bound(t, 1), nil), nil, "")
	shelf.put(nil, []trouble{{journal.Complaint{Severity: journal.Error}, "pages/about.md:1:1: error: <b>no</b>"}}, "")
	r, err := web.Client().Get(web.URL + "/about/")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(body, []byte("A bench 1")) || !bytes.Contains(body, []byte("error: &lt;b&gt;no&lt;/b&gt;")) {
		t.Errorf("%s", body)
	}
}

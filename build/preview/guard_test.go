package preview

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
)

// raw sends a request as it is written, which a client of good manners would not, and gives the answer.
func (s *showing) raw(method, target, host string, header ...string) *http.Response {
	s.t.Helper()
	c, err := net.Dial("tcp4", strings.TrimPrefix(s.addr, "http://"))
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { c.Close() })
	host = strings.ReplaceAll(host, "PORT", fmt.Sprint(s.port))
	head := fmt.Sprintf("%s %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n", method, target, host)
	for _, h := range header {
		head += h + "\r\n"
	}
	if _, err := c.Write([]byte(head + "\r\n")); err != nil {
		s.t.Fatal(err)
	}
	r, err := http.ReadResponse(bufio.NewReader(c), &http.Request{Method: method})
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { r.Body.Close() })
	return r
}

// routes are all kinds of address that are served.
var routes = []string{"/", "/no/such/", "/about", "/sheets/abcdefghjkmnpqrstvwxyz0123/", "/-/", "/desk/", "/-/preview.js", "/-/preview.css", "/-/complaints", "/-/events?at=/&seen=1"}

// A page on the web that makes its name lead to this machine is answered nothing, on no route (DNS rebinding; the names
// after those of the project singularity's documentation and from memory).
func TestOnlyItsOwnNamesAreAnswered(t *testing.T) {
	s := show(t, onDisk(t, small()))
	for _, host := range []string{
		"evil.example", "evil.example:PORT", "127.evil.example:PORT", "localhost.evil.example:PORT", "localhost", "127.0.0.1", "localhost:1", "[::1]",
		"127.0.0.2:PORT", "0.0.0.0:PORT", "127.1:PORT", "2130706433:PORT", "localhost.:PORT", "[::ffff:127.0.0.1]:PORT", "evil@localhost:PORT", "",
	} {
		for _, target := range routes {
			if r := s.raw("GET", target, host); r.StatusCode != http.StatusForbidden && r.StatusCode != http.StatusBadRequest {
				t.Errorf("%s as %q: %d", target, host, r.StatusCode)
			}
		}
		// A target with a host of its own has that for its name, whatever the header says (RFC 9112, 3.2.2).
		if r := s.raw("GET", "http://evil.example/", "localhost:PORT"); r.StatusCode != http.StatusForbidden {
			t.Errorf("an absolute target: %d", r.StatusCode)
		}
	}
	for _, host := range []string{"localhost:PORT", "127.0.0.1:PORT", "[::1]:PORT", "LOCALHOST:PORT"} {
		if r := s.raw("GET", "/", host); r.StatusCode != http.StatusOK {
			t.Errorf("as %q: %d", host, r.StatusCode)
		}
	}
}

func TestNothingCanBeSent(t *testing.T) {
	s := show(t, onDisk(t, small()))
	for _, target := range routes {
		for _, method := range []string{"POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND"} {
			if r := s.raw(method, target, "localhost:PORT", "Content-Length: 0"); r.StatusCode != http.StatusMethodNotAllowed || r.Header.Get("Allow") != "GET, HEAD" {
				t.Errorf("%s %s: %d, %q", method, target, r.StatusCode, r.Header.Get("Allow"))
			}
		}
	}
	if r := s.raw("OPTIONS", "*", "localhost:PORT"); r.StatusCode != http.StatusMethodNotAllowed {
		t.Errorf("OPTIONS *: %d", r.StatusCode)
	}
	if r := s.raw("HEAD", "/", "localhost:PORT"); r.StatusCode != http.StatusOK || r.Header.Get("Content-Type") != "text/html; charset=utf-8" {
		t.Errorf("HEAD: %d %v", r.StatusCode, r.Header)
	}
}

// What another site embeds, fetches or leads to is refused, by the headers of Fetch Metadata (W3C draft).
func TestOtherSitesGetNothingPrivate(t *testing.T) {
	s := show(t, onDisk(t, small()))
	sheet := "/sheets/abcdefghjkmnpqrstvwxyz0123/"
	for _, c := range []struct {
		target, site, mode, dest string
		want                     int
	}{
		{"/", "cross-site", "navigate", "document", 200}, // a link is harmless
		{"/", "cross-site", "navigate", "iframe", 403},
		{"/", "cross-site", "no-cors", "image", 403},
		{"/", "cross-site", "cors", "empty", 403},
		{"/", "same-site", "no-cors", "script", 403}, // another port of this machine
		{"/desk/", "cross-site", "navigate", "document", 403},
		{"/desk/", "same-site", "navigate", "document", 403},
		{"/desk/", "same-origin", "navigate", "document", 200},
		{"/desk/", "none", "navigate", "document", 200}, // typed, or a bookmark
		{sheet, "cross-site", "navigate", "document", 403},
		{sheet, "none", "navigate", "document", 200},
		{"/-/preview.js", "cross-site", "no-cors", "script", 403},
	} {
		r := s.raw("GET", c.target, "localhost:PORT", "Cookie: "+s.cookie(), "Sec-Fetch-Site: "+c.site, "Sec-Fetch-Mode: "+c.mode, "Sec-Fetch-Dest: "+c.dest)
		if r.StatusCode != c.want {
			t.Errorf("%s from %s, %s, %s: %d, not %d", c.target, c.site, c.mode, c.dest, r.StatusCode, c.want)
		}
	}
}

// The desk names recipients: it answers to the token of the run, once in the address and then as a cookie, and to nothing
// else, on this machine neither.
func TestTheDeskWantsItsToken(t *testing.T) {
	s, other := show(t, onDisk(t, small())), show(t, onDisk(t, small()))
	for _, c := range []struct{ what, target, cookie string }{
		{"nothing", "/desk/", ""}, {"an empty token", "/desk/?token=", ""}, {"another run's token", "/" + other.desk, other.cookie()},
		{"another run's token under our name", "/desk/", strings.Replace(other.cookie(), fmt.Sprint(other.port), fmt.Sprint(s.port), 1)},
		{"an empty cookie", "/desk/", fmt.Sprintf("slipleaf-desk-%d=", s.port)}, {"a part of the token", "/" + s.desk[:len(s.desk)-1], ""}, {"a path below", "/desk/x", ""},
	} {
		if r := s.raw("GET", c.target, "localhost:PORT", "Cookie: "+c.cookie); r.StatusCode != http.StatusForbidden {
			t.Errorf("with %s: %d", c.what, r.StatusCode)
		}
	}
	r := s.raw("GET", "/"+s.desk, "localhost:PORT")
	set := r.Header.Get("Set-Cookie")
	if r.StatusCode != http.StatusSeeOther || r.Header.Get("Location") != "/desk/" || !strings.HasPrefix(set, s.cookie()+";") || !strings.Contains(set, "HttpOnly") || !strings.Contains(set, "SameSite=Strict") {
		t.Errorf("the address that opens: %d, to %q, %q", r.StatusCode, r.Header.Get("Location"), set)
	}
	if r := s.raw("GET", "/desk/", "localhost:PORT", "Cookie: "+s.cookie()); r.StatusCode != http.StatusOK {
		t.Errorf("with the cookie: %d", r.StatusCode)
	}
	if r := s.raw("GET", "/desk/", "evil.example", "Cookie: "+s.cookie()); r.StatusCode != http.StatusForbidden {
		t.Errorf("with the cookie under another name: %d", r.StatusCode)
	}
}

// Every answer, a refusal too, keeps other origins out and says nothing of where its reader was.
func TestEveryAnswerIsFenced(t *testing.T) {
	s := show(t, onDisk(t, small()))
	for _, target := range append(routes, "/.", "//x", "/%2e%2e/") {
		for _, host := range []string{"localhost:PORT", "evil.example"} {
			if host != "evil.example" && strings.HasPrefix(target, "/-/events") {
				continue // a stream begins with the first event
			}
			r := s.raw("GET", target, host)
			for name, want := range map[string]string{
				"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Cross-Origin-Resource-Policy": "same-origin",
				"Cross-Origin-Opener-Policy": "same-origin", "Access-Control-Allow-Origin": "",
			} {
				if got := r.Header.Get(name); got != want {
					t.Errorf("%s from %s: %s is %q", target, host, name, got)
				}
			}
			if p := r.Header.Get("Referrer-Policy"); p != "no-referrer" && p != "same-origin" {
				t.Errorf("%s from %s: the referrer goes by %q", target, host, p)
			}
			if p := r.Header.Get("Content-Security-Policy"); !strings.HasPrefix(p, "default-src 'none'") || strings.Contains(p, "unsafe") {
				t.Errorf("%s from %s: the policy is %q", target, host, p)
			}
		}
	}
}

func TestNoPathLeadsOutOfTheSite(t *testing.T) {
	s := show(t, onDisk(t, small()))
	for _, target := range []string{
		"/../../../../etc/passwd", "/%2e%2e/%2e%2e/%2e%2e/etc/passwd", "/..%2f..%2f..%2fetc/passwd", "/..%5c..%5cetc%5cpasswd", "//etc/passwd", "///etc/passwd",
		"/journal.yaml", "/tanks/shelf/tank.md", "/sent/2026-02-10-ab.md", "/-/../journal.yaml", "/./journal.yaml", "/tanks/../sent/2026-02-10-ab.md", "/about/../../journal.yaml",
		"/look/", "/photos/", "/sent/", "/schema/", "/-/files/", "/desk/x", "/about/%00", "/" + strings.Repeat("a/", 3000),
	} {
		r := s.raw("GET", target, "localhost:PORT")
		switch {
		case r.StatusCode >= 400:
		case r.StatusCode >= 300:
			if to := r.Header.Get("Location"); !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") {
				t.Errorf("%.60s leads to %s", target, to)
			}
		default:
			t.Errorf("%.60s: %d", target, r.StatusCode)
		}
	}
}

func TestALongHeadIsRefused(t *testing.T) {
	s := show(t, onDisk(t, small()))
	if r := s.raw("GET", "/", "localhost:PORT", "X-Long: "+strings.Repeat("x", 40<<10)); r.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Error(r.StatusCode)
	}
}

func TestSlowClientsAreLimited(t *testing.T) {
	h := newHTTP(http.NotFoundHandler())
	if h.ReadHeaderTimeout <= 0 || h.ReadTimeout <= 0 || h.WriteTimeout <= 0 || h.IdleTimeout <= 0 || h.MaxHeaderBytes <= 0 {
		t.Errorf("a limit is missing: %+v", h)
	}
}

// Whoever can reach the port, without the token, sees nothing of a record: neither its text nor its name, nor the code of a
// sheet, though a save is broken there or for its sake. The desk shows it.
func TestNothingOfARecordIsShownWithoutTheToken(t *testing.T) {
	record, page := small()["sent/2026-02-10-ab.md"], small()["pages/about.md"]
	for name, files := range map[string]map[string]string{
		"a count that is none":        {"sent/2026-02-10-ab.md": strings.Replace(record, "count: 1", "count: CANARY-count", 1)},
		"a name beside its place":     {"sent/2026-02-10-ab.md": strings.Replace(record, "private:", "privat:", 1)},
		"a day before the lot":        {"sent/2026-02-10-ab.md": strings.Replace(record, "sent: 2026-02-10", "sent: 2026-01-10", 1)},
		"the code in a page":          {"pages/about.md": page + "See abcdefghjkmnpqrstvwxyz0123.\n"},
		"a code that is there twice":  {"sent/2026-02-11-CANARY.md": strings.Replace(record, "count: 1", "count: 2", 1)},
		"more than the lot has":       {"sent/2026-02-11-CANARY.md": "---\nlot: AB-0201\ncount: 3\nsent: 2026-02-11\n---\n"},
		"a record and a page as well": {"sent/2026-02-11-CANARY.md": "---\nlot: AB-0201\ncount: 3\nsent: 2026-02-11\n---\n", "pages/about.md": strings.Replace(page, "title: About", "titel: Shown", 1)},
	} {
		s := show(t, onDisk(t, small()))
		for file, text := range files {
			save(t, s.dir, file, text)
		}
		s.until("a broken save", func(r Report) bool { return !r.Whole && r.Complaints.Errors() >= len(files) })
		for _, target := range routes {
			if target == deskAddr || target == "/about" || strings.Contains(target, "events") { // which answer with other things
				continue
			}
			body, err := io.ReadAll(s.raw("GET", target, "localhost:PORT").Body)
			if err != nil {
				t.Fatal(err)
			}
			for _, secret := range []string{"CANARY", "2026-02-10-ab", "sent/", "abcdefghjkmnpqrstvwxyz0123."} {
				if strings.Contains(string(body), secret) {
					t.Errorf("%s: %s tells %q", name, target, secret)
				}
			}
			if own := strings.HasPrefix(target, "/-/preview"); !own && target != "/-/" && !strings.Contains(string(body), "records of parcels, which only the private page") {
				t.Errorf("%s: %s does not say where the problem is: %s", name, target, body)
			}
			if target == "/" && len(files) > 1 && !strings.Contains(string(body), "unknown key &#34;titel&#34;") {
				t.Errorf("%s: what is public is not shown: %s", name, body)
			}
		}
		if status, body := s.get(deskAddr); status != http.StatusOK || !strings.Contains(body, "sent/") {
			t.Errorf("%s: the desk does not show it: %d %s", name, status, body)
		}
		s.stop()
	}
}

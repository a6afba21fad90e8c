package preview

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/netip"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/words"
)

// only is a writer that writes nothing: the tests here are about who may ask.
type only struct{}

func (only) Write(context.Context, string, func(fs.FS) ([]change.File, error)) (journal.Complaints, error) {
	return nil, nil
}
func (only) Last(context.Context) (change.Past, error) { return change.Past{}, change.ErrNothing }
func (only) Judge(context.Context, func(fs.FS) ([]change.File, error)) (journal.Complaints, error) {
	return nil, nil
}
func (only) Undo(context.Context, func(change.Past) bool) error {
	return change.ErrNothing
}
func (only) Command(context.Context, []string, string) (string, []words.Said, error) {
	return "", nil, nil
}
func (only) Published() fs.FS                                      { return nil }
func (only) Publish(context.Context) ([]words.Said, string, error) { return nil, "", nil }

// home is the address that stands for one in a network at home: packets to it stay on this machine.
var home = netip.MustParseAddr("127.0.0.2")

// withPhones is a preview that other devices can be paired with, and the address that pairs the first.
func withPhones(t *testing.T) (s *showing, base, pairs string) {
	t.Helper()
	if l, err := net.Listen("tcp", "127.0.0.2:0"); err != nil {
		t.Skip("this system has no second loopback address: ", err)
	} else {
		l.Close()
	}
	got := make(chan string, 1)
	s = show(t, onDisk(t, small()), func(o *Options) {
		o.Phones, o.Pair, o.Writer = []netip.Addr{home}, func(a string) { got <- a }, only{}
	})
	pairs = <-got
	u, err := url.Parse(pairs)
	if err != nil {
		t.Fatal(err)
	}
	return s, "http://" + u.Host, pairs
}

// device is a browser on another machine.
type device struct {
	t    *testing.T
	base string
	http.Client
}

// from is a device with an address of its own.
func from(t *testing.T, base, addr string) *device {
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	d := &net.Dialer{LocalAddr: &net.TCPAddr{IP: net.ParseIP(addr)}, Timeout: 10 * time.Second}
	return &device{t, base, http.Client{Jar: jar, Transport: &http.Transport{DialContext: d.DialContext}}}
}

func (d *device) do(method, path string, form url.Values, change ...func(*http.Request)) (int, string) {
	d.t.Helper()
	q, err := http.NewRequest(method, d.base+path, strings.NewReader(form.Encode()))
	if err != nil {
		d.t.Fatal(err)
	}
	if form != nil {
		q.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		q.Header.Set("Origin", d.base)
	}
	for _, f := range change {
		f(q)
	}
	r, err := d.Do(q)
	if err != nil {
		d.t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		d.t.Fatal(err)
	}
	return r.StatusCode, string(body)
}

func codeOf(t *testing.T, pairs string) url.Values {
	t.Helper()
	u, err := url.Parse(pairs)
	if err != nil || u.Query().Get("code") == "" {
		t.Fatal(pairs, err)
	}
	return url.Values{"code": {u.Query().Get("code")}}
}

// Whatever an unpaired device asks for, it is told to pair first: the site, the desk, the preview's own files, by any method,
// with the token and the cookie of this machine too.
func TestAnUnpairedDeviceIsToldToPair(t *testing.T) {
	s, base, _ := withPhones(t)
	d := from(t, base, "127.0.0.3")
	_, token, _ := strings.Cut(s.desk, "token=")
	for _, path := range []string{"/", "/desk/", "/desk/tank/shelf/", "/desk/people/", "/desk/phone/", "/-/desk.js", "/-/events?at=/&seen=1", "/sheets/abcdefghjkmnpqrstvwxyz0123/", "/desk/?token=" + token, "/desk/pair", "//desk/pair/", "/desk/pair/../", "/tankside/"} {
		status, body := d.do(http.MethodGet, path, nil, func(r *http.Request) { r.Header.Set("Cookie", s.cookie()) })
		if status != http.StatusForbidden || !strings.Contains(body, "This device is not paired") || strings.Contains(body, "CANARY") {
			t.Errorf("GET %s: %d %.80s", path, status, body)
		}
	}
	if status, body := d.do(http.MethodPost, "/desk/tank/shelf/", url.Values{"words": {"x"}}); status != http.StatusForbidden || !strings.Contains(body, "pair") {
		t.Errorf("POST: %d %.80s", status, body)
	}
	if status, body := d.do(http.MethodGet, "/desk/pair/", nil); status != http.StatusOK || strings.Contains(body, "shelf") || strings.Contains(body, `name="form"`) {
		t.Errorf("the page of the code tells of the journal: %d %.200s", status, body)
	}
}

// A code pairs one device, once, and only by its button: whoever looks at the address first uses nothing up. What was sent
// once is no good again, for the same device neither.
func TestACodePairsOnce(t *testing.T) {
	_, base, pairs := withPhones(t)
	code, path := codeOf(t, pairs), strings.TrimPrefix(pairs, base)
	looker, phone, thief := from(t, base, "127.0.0.4"), from(t, base, "127.0.0.3"), from(t, base, "127.0.0.5")
	for range 3 {
		looker.do(http.MethodGet, path, nil)
	}
	if status, body := phone.do(http.MethodPost, "/desk/pair/", code); status != http.StatusOK || !strings.Contains(body, "/desk/tank/shelf/") {
		t.Fatalf("it is not paired: %d %.300s", status, body)
	}
	if status, _ := phone.do(http.MethodGet, "/desk/tank/shelf/", nil); status != http.StatusOK {
		t.Error("the form is not open to a paired phone: ", status)
	}
	for name, d := range map[string]*device{"another device": thief, "the one that looked": looker, "the same": from(t, base, "127.0.0.3")} {
		if status, _ := d.do(http.MethodPost, "/desk/pair/", code); status != http.StatusForbidden {
			t.Errorf("the code pairs %s again: %d", name, status)
		}
		if status, _ := d.do(http.MethodGet, "/desk/", nil); status != http.StatusForbidden {
			t.Errorf("%s is in: %d", name, status)
		}
	}
}

// Other sites in a paired phone's browser, and names that lead here, reach nothing.
func TestOtherSitesReachNoPairedDesk(t *testing.T) {
	_, base, pairs := withPhones(t)
	phone := from(t, base, "127.0.0.3")
	if status, _ := phone.do(http.MethodPost, "/desk/pair/", codeOf(t, pairs)); status != http.StatusOK {
		t.Fatal(status)
	}
	_, body := phone.do(http.MethodGet, "/desk/tank/shelf/", nil)
	m := regexp.MustCompile(`name="form" value="([^"]+)"`).FindStringSubmatch(body)
	if m == nil {
		t.Fatal("no form")
	}
	form := url.Values{"form": {m[1]}, "words": {"x"}}
	for name, change := range map[string]func(*http.Request){
		"another origin":   func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") },
		"no origin":        func(r *http.Request) { r.Header.Del("Origin") },
		"a null origin":    func(r *http.Request) { r.Header.Set("Origin", "null") },
		"this machine's":   func(r *http.Request) { r.Header.Set("Origin", "http://localhost:7417") },
		"a cross-site tag": func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") },
		"a same-site tag":  func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") },
		"a rebound name":   func(r *http.Request) { r.Host = "evil.example"; r.Header.Set("Origin", "http://evil.example") },
		"localhost":        func(r *http.Request) { r.Host = strings.Replace(r.Host, "127.0.0.2", "localhost", 1) },
		"no form token":    func(r *http.Request) { r.Body = io.NopCloser(bytes.NewReader([]byte("words=x"))); r.ContentLength = 7 },
	} {
		if status, _ := phone.do(http.MethodPost, "/desk/tank/shelf/", form, change); status != http.StatusForbidden {
			t.Errorf("%s: %d", name, status)
		}
	}
	if status, _ := phone.do(http.MethodGet, "/desk/", nil, func(r *http.Request) { r.Host = "evil.example" }); status != http.StatusForbidden {
		t.Error("a name that leads here reads the desk: ", status)
	}
}

// Guesses are counted by address; who has sent too many is not listened to for a while, and another device still is. Time
// is told, not waited for.
func TestGuessing(t *testing.T) {
	now := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	p := newPairing("192.168.1.5:7417", 7417, func() time.Time { return now })
	address, until := p.Fresh()
	code := codeOf(t, address).Get("code")
	if until.Sub(now) != codeHolds || len(code) < 26 {
		t.Errorf("a code of %d letters for %v", len(code), until.Sub(now))
	}
	for i := range 20 {
		want := http.StatusForbidden
		if i >= wrongTries {
			want = http.StatusTooManyRequests
		}
		if token, status := p.pair(strings.Repeat("A", len(code)), "192.168.1.66", ""); token != "" || status != want {
			t.Fatalf("guess %d: %d", i, status)
		}
	}
	if _, status := p.pair(code, "192.168.1.66", ""); status != http.StatusTooManyRequests {
		t.Error("the right code after too many wrong ones: ", status)
	}
	for _, wrong := range []string{"", code[:len(code)-1], code + "A", strings.ToLower(code)} {
		if _, status := p.pair(wrong, "192.168.1.67", ""); status != http.StatusForbidden {
			t.Errorf("%q: %d", wrong, status)
		}
	}
	if token, status := p.pair(code, "192.168.1.7", "Mozilla/5.0 (a phone) x"); token == "" || status != http.StatusOK || p.Devices()[0].Name != "a phone" {
		t.Error("the guesses of one device keep another out: ", status)
	}
	now = now.Add(codeHolds + time.Second)
	if _, status := p.pair("", "192.168.1.66", ""); status != http.StatusForbidden {
		t.Error("it is kept out for ever: ", status)
	}
	address, _ = p.Fresh()
	now = now.Add(codeHolds + time.Second)
	if _, status := p.pair(codeOf(t, address).Get("code"), "192.168.1.8", ""); status != http.StatusForbidden {
		t.Error("a code that is too old: ", status)
	}
	p.Forget(p.Devices()[0].ID)
	if len(p.Devices()) != 0 {
		t.Error("a device that was forgotten is still in")
	}
}

// A thousand connections of one device keep neither this machine nor another device out.
func TestAThousandConnections(t *testing.T) {
	s, base, pairs := withPhones(t)
	d := &net.Dialer{LocalAddr: &net.TCPAddr{IP: net.ParseIP("127.0.0.9")}}
	open := 0
	var last net.Conn
	for range 1000 {
		c, err := d.Dial("tcp", strings.TrimPrefix(base, "http://"))
		if err != nil {
			continue
		}
		open++
		last = c
		t.Cleanup(func() { c.Close() })
	}
	if open < 900 {
		t.Skip("this system lets a test open too few connections: ", open)
	}
	if err := last.SetReadDeadline(time.Now().Add(10 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := last.Read(make([]byte, 1)); err == nil || errors.Is(err, os.ErrDeadlineExceeded) {
		t.Error("a connection too many is held: ", err)
	}
	if status, _ := from(t, base, "127.0.0.3").do(http.MethodPost, "/desk/pair/", codeOf(t, pairs)); status != http.StatusOK {
		t.Error("another device is kept out: ", status)
	}
	if status, _ := s.get("/desk/"); status != http.StatusOK {
		t.Error("this machine is kept out: ", status)
	}
}

// Only addresses of a network at home are opened.
func TestPrivateAddresses(t *testing.T) {
	var all []net.Addr
	for _, s := range []string{"127.0.0.1/8", "192.168.1.5/24", "10.1.2.3/8", "172.16.0.9/12", "172.32.0.9/12", "8.8.8.8/32", "100.64.0.1/10", "169.254.3.4/16", "::1/128", "fe80::1/64", "fd12:3456::1/64", "2001:db8::1/64", "203.0.113.9/24"} {
		ip, n, err := net.ParseCIDR(s)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, &net.IPNet{IP: ip, Mask: n.Mask})
	}
	var got []string
	for _, a := range privateOf(all) {
		got = append(got, a.String())
	}
	if want := "10.1.2.3 172.16.0.9 192.168.1.5 fd12:3456::1"; strings.Join(got, " ") != want {
		t.Errorf("%v, want %s", got, want)
	}
}

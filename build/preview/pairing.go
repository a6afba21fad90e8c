package preview

import (
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"slipleaf/build/desk"
	"slipleaf/build/spelling"
)

// pairAddr is where a device is paired.
const pairAddr = deskAddr + "pair/"

// codeHolds is how long a code pairs a device, once; wrongTries is how many wrong ones an address may send in that time
// (our choice: a code has 130 random bits).
const (
	codeHolds  = 5 * time.Minute
	wrongTries = 5
)

// pairing pairs devices with this run of the desk, and knows those that are paired. It is safe for concurrent use.
type pairing struct {
	now     func() time.Time
	address string // of [pairAddr], as a phone reaches it
	cookie  string

	mu      sync.Mutex
	code    string // "" once it was used
	until   time.Time
	devices []paired
	wrong   map[string][]time.Time // wrong codes, by address
}

// paired is a device that is let in.
type paired struct {
	desk.Device
	token string
}

func newPairing(host string, port int, now func() time.Time) *pairing {
	return &pairing{now: now, address: fmt.Sprintf("http://%s%s", host, pairAddr), cookie: fmt.Sprintf("slipleaf-phone-%d", port), wrong: map[string][]time.Time{}}
}

// Fresh implements desk.Pairing: a new code takes the place of the last.
func (p *pairing) Fresh() (address string, until time.Time) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.code, p.until = rand.Text(), p.now().Add(codeHolds)
	return p.address + "?code=" + p.code, p.until
}

// Devices implements desk.Pairing.
func (p *pairing) Devices() (out []desk.Device) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, d := range p.devices {
		out = append(out, d.Device)
	}
	return out
}

// Forget implements desk.Pairing.
func (p *pairing) Forget(id string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.devices = slices.DeleteFunc(p.devices, func(d paired) bool { return d.ID == id })
}

// knows reports whether a request comes from a device that is paired.
func (p *pairing) knows(r *http.Request) bool {
	c, err := r.Cookie(p.cookie)
	if err != nil {
		return false
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.ContainsFunc(p.devices, func(d paired) bool { return subtle.ConstantTimeCompare([]byte(d.token), []byte(c.Value)) == 1 })
}

// pair uses a code up, and gives the token of the device that it let in; "" where it lets nobody in.
func (p *pairing) pair(code, from, agent string) (token string, status int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	tries := slices.DeleteFunc(p.wrong[from], func(t time.Time) bool { return now.Sub(t) > codeHolds })
	if len(tries) >= wrongTries {
		p.wrong[from] = tries
		return "", http.StatusTooManyRequests
	}
	if p.code == "" || now.After(p.until) || subtle.ConstantTimeCompare([]byte(code), []byte(p.code)) != 1 {
		if len(p.wrong) < 10_000 { // a network at home has fewer addresses
			p.wrong[from] = append(tries, now)
		}
		return "", http.StatusForbidden
	}
	p.code = ""
	token = rand.Text()
	p.devices = append(p.devices, paired{desk.Device{ID: rand.Text(), Name: deviceName(agent), From: from, At: now}, token})
	return token, http.StatusOK
}

// deviceName is what a browser says of the machine that it runs on, cut short.
func deviceName(agent string) string {
	_, rest, ok := strings.Cut(agent, "(")
	name, _, closed := strings.Cut(rest, ")")
	if !ok || !closed {
		name = agent
	}
	return spelling.Clip(name)
}

// guard lets paired devices in. All others are told to pair first, whatever they ask for but the page of the code and its
// style.
func (p *pairing) guard(s *server, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.URL.Path == pairAddr:
			p.serve(w, r, s)
		case p.knows(r), r.URL.Path == ownAddr+"desk.css":
			next.ServeHTTP(w, r)
		default:
			s.forms.Refuse(w, http.StatusForbidden, desk.Unknown)
		}
	})
}

// serve is the page of the code. Only its button uses the code up: programs that look at addresses before people do send
// no forms.
func (p *pairing) serve(w http.ResponseWriter, r *http.Request, s *server) {
	b := s.site()
	if b == nil {
		s.forms.Refuse(w, http.StatusServiceUnavailable, desk.NotYet)
		return
	}
	if r.Method != http.MethodPost {
		s.forms.ShowPair(w, b, http.StatusOK, r.URL.Query().Get("code"))
		return
	}
	r.Body = http.MaxBytesReader(w, r.Body, 4<<10)
	if r.Header.Get("Origin") != "http://"+r.Host {
		s.forms.Refuse(w, http.StatusForbidden, desk.Foreign)
		return
	}
	token, status := p.pair(r.PostFormValue("code"), hostOf(r.RemoteAddr), r.UserAgent())
	if token == "" {
		s.forms.ShowPair(w, b, status, "")
		return
	}
	http.SetCookie(w, &http.Cookie{Name: p.cookie, Value: token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, deskAddr, http.StatusSeeOther)
}

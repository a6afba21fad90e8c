// Package gather fetches other growers' offers files. It is the only part of Slipleaf that uses the network, and it
// trusts nobody: neither the server, nor the names that it resolves, nor what it sends.
package gather

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"
	"syscall"
	"time"
)

// Options say what is allowed besides https to public hosts. The zero value is right.
type Options struct {
	Plain   bool          // http too
	Private bool          // hosts of private networks and this machine too
	Within  time.Duration // for one file, redirects included; 0: 20 s
	Bytes   int64         // the most that one file may have; 0: 1 MiB
	// Transport is used instead of one of our own, whose dialer refuses private networks; nil outside of tests.
	Transport http.RoundTripper
}

// Got is a file that was fetched.
type Got struct {
	Data      []byte
	ETag      string
	Unchanged bool // the server says that what has the ETag that was sent is still the latest
}

// mostRedirects is how often a friend may point elsewhere.
const mostRedirects = 4

// Client fetches files. Use [New].
type Client struct {
	options Options
	http    *http.Client
}

// New makes a client; it is safe for concurrent use.
func New(o Options) *Client {
	o.Within, o.Bytes = cmp.Or(o.Within, 20*time.Second), cmp.Or(o.Bytes, 1<<20)
	c := &Client{options: o}
	transport := o.Transport
	if transport == nil {
		dialer := &net.Dialer{Timeout: 10 * time.Second, Control: c.control}
		transport = &http.Transport{
			Proxy:       nil, // a proxy would resolve names for us, past the check of addresses
			DialContext: dialer.DialContext, TLSHandshakeTimeout: 10 * time.Second, ResponseHeaderTimeout: 15 * time.Second,
			DisableCompression: true, MaxResponseHeaderBytes: 64 << 10, DisableKeepAlives: true, ForceAttemptHTTP2: true,
		}
	}
	c.http = &http.Client{Transport: transport, CheckRedirect: c.redirect}
	return c
}

// Fetch gets a file. etag is that of the copy at hand, or empty.
func (c *Client) Fetch(ctx context.Context, address, etag string) (Got, error) {
	u, err := url.Parse(address)
	if err != nil {
		return Got{}, errors.New("the address cannot be read")
	}
	if err := c.allowed(u); err != nil {
		return Got{}, err
	}
	ctx, cancel := context.WithTimeout(ctx, c.options.Within)
	defer cancel()
	q, err := http.NewRequestWithContext(ctx, http.MethodGet, u.String(), nil)
	if err != nil {
		return Got{}, err
	}
	q.Header.Set("User-Agent", "slipleaf")
	q.Header.Set("Accept", "application/json")
	if etag != "" {
		q.Header.Set("If-None-Match", etag)
	}
	resp, err := c.http.Do(q)
	if err != nil {
		return Got{}, plainly(ctx, err, c.options.Within)
	}
	defer resp.Body.Close()
	switch {
	case resp.StatusCode == http.StatusNotModified && etag != "":
		return Got{ETag: etag, Unchanged: true}, nil
	case resp.StatusCode != http.StatusOK:
		return Got{}, fmt.Errorf("the server answers %d", resp.StatusCode)
	}
	data, err := io.ReadAll(io.LimitReader(resp.Body, c.options.Bytes+1))
	if err != nil {
		return Got{}, plainly(ctx, err, c.options.Within)
	}
	if int64(len(data)) > c.options.Bytes {
		return Got{}, fmt.Errorf("the file is larger than %d kB", c.options.Bytes/1024)
	}
	return Got{Data: data, ETag: sane(resp.Header.Get("ETag"))}, nil
}

// plainly says in words why a fetch failed.
func plainly(ctx context.Context, err error, within time.Duration) error {
	var wrapped *url.Error
	switch {
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return fmt.Errorf("no complete answer within %s", within)
	case errors.As(err, &wrapped):
		return wrapped.Err
	}
	return err
}

// sane is an ETag that may be sent back; "" for one that is none (RFC 9110 §8.8.3).
func sane(etag string) string {
	if len(etag) > 200 || strings.ContainsFunc(etag, func(c rune) bool { return c < 0x21 || c == 0x7f }) {
		return ""
	}
	return etag
}

// allowed judges an address before it is asked.
func (c *Client) allowed(u *url.URL) error {
	switch {
	case u.Scheme == "http" && !c.options.Plain:
		return errors.New("the address is not https; --plain allows it")
	case u.Scheme != "https" && u.Scheme != "http":
		return errors.New("the address is neither https nor http")
	case u.User != nil:
		return errors.New("the address holds a name or password")
	case u.Hostname() == "":
		return errors.New("the address names no host")
	}
	return nil
}

func (c *Client) redirect(q *http.Request, via []*http.Request) error {
	if len(via) > mostRedirects {
		return fmt.Errorf("more than %d redirects", mostRedirects)
	}
	return c.allowed(q.URL)
}

// control judges the address that a connection is about to go to, when names have been resolved: no answer of a name
// server leads into the grower's own network.
func (c *Client) control(_, address string, _ syscall.RawConn) error {
	to, err := netip.ParseAddrPort(address)
	if err != nil {
		return err
	}
	switch {
	case !unicast(to.Addr()):
		return errors.New("the host's address is not that of one machine")
	case !c.options.Private && !Public(to.Addr()):
		return errors.New("the host lies in a private network")
	}
	return nil
}

// special are networks that are not the public internet (IANA special-purpose registries, RFC 6890) besides those
// that netip knows; and those in which an address of version 4 can hide.
var special = []netip.Prefix{
	netip.MustParsePrefix("0.0.0.0/8"), netip.MustParsePrefix("100.64.0.0/10"), netip.MustParsePrefix("192.0.0.0/24"), netip.MustParsePrefix("192.0.2.0/24"),
	netip.MustParsePrefix("192.88.99.0/24"), netip.MustParsePrefix("198.18.0.0/15"), netip.MustParsePrefix("198.51.100.0/24"), netip.MustParsePrefix("203.0.113.0/24"),
	netip.MustParsePrefix("240.0.0.0/4"), netip.MustParsePrefix("::/96"), netip.MustParsePrefix("64:ff9b::/96"), netip.MustParsePrefix("64:ff9b:1::/48"),
	netip.MustParsePrefix("100::/64"), netip.MustParsePrefix("2001::/23"), netip.MustParsePrefix("2001:db8::/32"), netip.MustParsePrefix("2002::/16"),
	netip.MustParsePrefix("3fff::/20"), netip.MustParsePrefix("fec0::/10"),
}

// global is the part of version 6 from which public addresses are given out (IANA IPv6 Global Unicast Address Assignments,
// RFC 4291 section 2.4).
var global = netip.MustParsePrefix("2000::/3")

// Public reports whether an address is one of the public internet.
func Public(a netip.Addr) bool {
	a = a.Unmap().WithZone("")
	return unicast(a) && a.IsGlobalUnicast() && !a.IsPrivate() && (a.Is4() || global.Contains(a)) &&
		!slices.ContainsFunc(special, func(p netip.Prefix) bool { return p.Contains(a) })
}

// unicast reports whether an address is of one machine that can be asked, here or elsewhere: not of a group, of all, of none,
// and none that machines give themselves (RFC 3927, RFC 4291), behind which clouds keep their secrets.
func unicast(a netip.Addr) bool {
	a = a.Unmap().WithZone("")
	return !a.IsMulticast() && !a.IsUnspecified() && !a.IsLinkLocalUnicast() && !nowhere.Contains(a) && !reserved.Contains(a)
}

// nowhere and reserved are addresses of version 4 that are of no machine (RFC 1122 section 3.2.1.3, RFC 1112 section 4).
var nowhere, reserved = netip.MustParsePrefix("0.0.0.0/8"), netip.MustParsePrefix("240.0.0.0/4")

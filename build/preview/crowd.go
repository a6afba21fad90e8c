package preview

import (
	"net"
	"sync"
)

// How many connections are open at once: a browser holds six to a host, and each tab one more. The rest is left to the
// journal's files (our choice).
const (
	mostOpen     = 256
	mostFromEach = 32
)

// crowd is a listener that turns away who holds too many connections already, so that nobody keeps others out.
type crowd struct {
	net.Listener
	each int // for one address

	mu   sync.Mutex
	open map[string]int
	all  int
}

func limited(l net.Listener, each int) *crowd {
	return &crowd{Listener: l, each: each, open: map[string]int{}}
}

// Accept gives the next connection that there is room for.
func (c *crowd) Accept() (net.Conn, error) {
	for {
		conn, err := c.Listener.Accept()
		if err != nil {
			return nil, err
		}
		from := hostOf(conn.RemoteAddr().String())
		if c.enter(from) {
			return &guest{Conn: conn, leave: sync.OnceFunc(func() { c.leave(from) })}, nil
		}
		_ = conn.Close()
	}
}

func (c *crowd) enter(from string) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.all >= mostOpen || c.open[from] >= c.each {
		return false
	}
	c.all++
	c.open[from]++
	return true
}

func (c *crowd) leave(from string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.all--
	if c.open[from]--; c.open[from] == 0 {
		delete(c.open, from)
	}
}

// guest is a connection that is counted until it is closed.
type guest struct {
	net.Conn
	leave func()
}

// Close implements net.Conn.
func (g *guest) Close() error {
	defer g.leave()
	return g.Conn.Close()
}

func hostOf(addr string) string {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return addr
	}
	return host
}

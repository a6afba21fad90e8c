package preview

import (
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strconv"
	"syscall"
	"time"
)

// portsTried is how many ports are tried, from the wanted one on.
const portsTried = 50

// listen opens a port of this machine's own addresses only, 127.0.0.1 and ::1, on the first port from the wanted one on
// that is free on both. A machine without IPv6 has only the first. 0 is any free port.
func listen(port int) ([]net.Listener, int, error) {
	for i := range portsTried {
		p := port
		if port != 0 {
			p = port + i
		}
		if p > 65535 {
			break
		}
		ls, got, err := listenBoth(p)
		if err == nil || !errors.Is(err, syscall.EADDRINUSE) {
			return ls, got, err
		}
	}
	return nil, 0, fmt.Errorf("the ports from %d on are taken; name another with --port", port)
}

func listenBoth(port int) ([]net.Listener, int, error) {
	four, err := net.Listen("tcp4", "127.0.0.1:"+strconv.Itoa(port))
	if err != nil {
		return nil, 0, err
	}
	port = four.Addr().(*net.TCPAddr).Port
	six, err := net.Listen("tcp6", "[::1]:"+strconv.Itoa(port))
	switch {
	case err == nil:
		return []net.Listener{four, six}, port, nil
	case errors.Is(err, syscall.EADDRINUSE): // "localhost" would lead some browsers to whoever has it
		return nil, 0, errors.Join(err, four.Close())
	}
	return []net.Listener{four}, port, nil
}

// PrivateAddrs are the addresses of this machine in a network at home: those of RFC 1918 and RFC 4193. Public ones are
// never among them.
func PrivateAddrs() ([]netip.Addr, error) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	return privateOf(all), nil
}

func privateOf(all []net.Addr) (out []netip.Addr) {
	for _, a := range all {
		p, err := netip.ParsePrefix(a.String())
		if err == nil && p.Addr().Unmap().IsPrivate() {
			out = append(out, p.Addr().Unmap())
		}
	}
	slices.SortFunc(out, netip.Addr.Compare) // the shorter ones first, which is the one that is shown
	return out
}

// phone is an address at which devices that are paired are answered.
type phone struct {
	net.Listener
	handler http.Handler
}

// phones opens the addresses for other devices. The first of them is shown.
func (s *server) phones(o Options, port int) (out []phone, err error) {
	if len(o.Phones) == 0 {
		return nil, nil
	}
	hosts := make([]string, len(o.Phones))
	for i, a := range o.Phones {
		l, err := net.Listen("tcp", netip.AddrPortFrom(a, uint16(port)).String())
		if err != nil {
			return nil, errors.Join(err, closeAll(out))
		}
		hosts[i] = a.String()
		if a.Is6() {
			hosts[i] = "[" + hosts[i] + "]"
		}
		out = append(out, phone{Listener: l})
	}
	p := newPairing(fmt.Sprintf("%s:%d", hosts[0], port), port, time.Now)
	s.forms.Pairing = p
	for i := range out {
		out[i].handler = s.handlerFor(hosts[i], port, p)
	}
	return out, nil
}

func closeAll[L net.Listener](of []L) (err error) {
	for _, l := range of {
		err = errors.Join(err, l.Close())
	}
	return err
}

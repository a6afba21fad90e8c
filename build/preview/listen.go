package preview

import (
	"errors"
	"fmt"
	"net"
	"strconv"
	"syscall"
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

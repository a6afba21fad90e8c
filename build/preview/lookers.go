package preview

import (
	"maps"
	"slices"
	"sync"
)

// lookers counts the open pages by their address. It is safe for concurrent use; the zero value has none.
type lookers struct {
	mu sync.Mutex
	at map[string]int
}

// look notes an open page, until the function that it returns is called.
func (l *lookers) look(addr string) (leave func()) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.at == nil {
		l.at = map[string]int{}
	}
	l.at[addr]++
	return func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		if l.at[addr]--; l.at[addr] == 0 {
			delete(l.at, addr)
		}
	}
}

// all lists the addresses that are looked at, sorted.
func (l *lookers) all() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Sorted(maps.Keys(l.at))
}

package main

import (
	"fmt"
	"sync"
	"time"
)

// progress shows how far long work has come: on a terminal, from the first second on, and never in a pipe.
type progress struct {
	w     world
	mu    sync.Mutex
	next  time.Time // not before then
	shown bool
}

func newProgress(w world) *progress { return &progress{w: w, next: time.Now().Add(time.Second)} }

// clearLine goes to the beginning of a terminal's line and clears it (ECMA-48).
const clearLine = "\r\x1b[K"

func (p *progress) tell(phase string, done, all int) {
	if !p.w.terminal(p.w.Err) {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if now := time.Now(); !now.Before(p.next) {
		fmt.Fprintf(p.w.Err, clearLine+"%s: %d of %d", phase, done, all)
		p.next, p.shown = now.Add(100*time.Millisecond), true
	}
}

func (p *progress) stop() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shown {
		fmt.Fprint(p.w.Err, clearLine)
		p.shown = false
	}
}

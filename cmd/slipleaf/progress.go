package main

import (
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
)

// progress shows how far long work has come: on a terminal, from the first second on, and never in a pipe.
type progress struct {
	w     world
	began time.Time
	mu    sync.Mutex
	bar   *progressbar.ProgressBar
	phase string
}

func newProgress(w world) *progress { return &progress{w: w, began: time.Now()} }

func (p *progress) tell(phase string, done, all int) {
	if !p.w.terminal(p.w.Err) {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if time.Since(p.began) < time.Second {
		return
	}
	if p.bar == nil || p.phase != phase {
		p.bar = progressbar.NewOptions(all, progressbar.OptionSetWriter(p.w.Err), progressbar.OptionSetDescription(phase),
			progressbar.OptionShowCount(), progressbar.OptionClearOnFinish(), progressbar.OptionSetPredictTime(true), progressbar.OptionThrottle(100*time.Millisecond))
		p.phase = phase
	}
	_ = p.bar.Set(done)
}

func (p *progress) stop() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		_ = p.bar.Clear()
		p.bar = nil
	}
}

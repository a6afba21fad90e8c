package main

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"net/netip"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"sync"

	"slipleaf/build/journal"
	"slipleaf/build/papers"
	"slipleaf/build/preview"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
	"slipleaf/build/spelling"
)

// serving are the flags of the commands that serve a journal in the browser.
type serving struct {
	Dir  string `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	Port int    `default:"7417" help:"Port to use; 0 picks a free one (default: 7417)."`
	On   string `placeholder:"DATE" help:"Treat this date as today."`
	Look string `placeholder:"DIR" help:"A look of your own: a folder of templates, styles and words."`
}

type previewCmd struct {
	serving
	Open bool `help:"Open it in the browser."`

	atDesk bool   // it opens at the desk
	to     string // where the desk publishes
	after  string // what is run after each publish
	phone  bool   // paired devices at home may use it too
	begun  preview.Begun
}

// Run shows the journal in the browser and keeps up with what is saved, until it is interrupted.
func (c previewCmd) Run(ctx context.Context, w world) error {
	in, err := w.open(c.Dir, c.On)
	if err != nil {
		return err
	}
	defer in.close()
	dir, fsys := in.dir, in.fsys
	c.to = cmp.Or(c.to, defaultTarget)
	if c.Port < 0 || c.Port > 65535 {
		return wrongUse("--port: %d is no port; a port is 0 to 65535", c.Port)
	}
	o := site.Options{Zone: knownZone, Dir: dir, ThemeDir: c.Look}
	if o.Photos, err = site.OpenPhotoCache(c.to, o); err != nil {
		return err
	}
	if o.Theme, err = themeFS(c.Look); err != nil {
		return err
	}
	if c.On != "" {
		o.On = in.on
	}
	var phones []netip.Addr
	if c.phone {
		if phones, err = preview.PrivateAddrs(); err != nil {
			return err
		}
		if len(phones) == 0 {
			return wrongUse("--phone: this machine has no address in a network at home; connect it first")
		}
	}
	forms := &formWriter{w: w, dir: dir, on: c.On, fsys: fsys, publish: publishCmd{To: c.to, Look: c.Look}, after: c.after}
	var ahead sync.WaitGroup
	defer ahead.Wait()
	v := &viewer{w: w, dir: dir, fsys: fsys, port: c.Port, open: c.Open && c.begun == preview.Begun{}, atDesk: c.atDesk}
	return preview.Run(ctx, preview.Options{
		Dir: dir, FS: fsys, Theme: c.Look, Port: c.Port, Site: o,
		Day:    func() quantity.Date { day, _ := w.day("", fsys); return day }, // without --on it cannot fail
		Begun:  c.begun,
		Phones: phones, Pair: v.pair,
		Writer: forms,
		Shown:  func(x journal.Complaint) string { return v.shown(x, false) },
		Ready: func(port int, desk string) {
			v.ready(port, desk)
			ahead.Go(func() { _, _ = forms.judged(ctx, nil) }) // so that the first save need not read the whole journal
		},
		Tell: v.tell, Say: v.say,
	})
}

// viewer tells the terminal what the preview does.
type viewer struct {
	w      world
	dir    string
	fsys   fs.FS
	port   int // that was asked for
	open   bool
	atDesk bool       // what is opened
	mu     sync.Mutex // one line at a time
	was    string     // what was last told, so that it is not told again at every save
}

func (v *viewer) shown(c journal.Complaint, colour bool) string {
	return shown(v.dir, v.fsys, c, colour)
}

// ready prints the address, and opens it where that is wanted.
func (v *viewer) ready(port int, desk string) {
	v.mu.Lock()
	defer v.mu.Unlock()
	addr := fmt.Sprintf("http://localhost:%d/", port)
	taken := ""
	if v.port != 0 && port != v.port {
		taken = fmt.Sprintf(" (port %d is taken)", v.port)
	}
	fmt.Fprintf(v.w.Out, "%s%s; private page: %s%s; press Ctrl-C to stop\n", addr, taken, addr, desk)
	if v.open {
		if v.atDesk {
			addr += desk
		}
		if err := browse(addr); err != nil {
			fmt.Fprintf(v.w.Err, "no browser could be opened (%v); open %s yourself\n", err, addr)
		}
	}
}

// pair shows what pairs the first device.
func (v *viewer) pair(address string) {
	v.mu.Lock()
	defer v.mu.Unlock()
	if code, err := papers.CodeText(address); err == nil {
		fmt.Fprintf(v.w.Out, "\n%s\n", code)
	}
	fmt.Fprintf(v.w.Out, "Scan it with a phone in your network, within five minutes, once: %s\nWhat is sent is not encrypted: whoever is in your network can read it. More codes: /desk/phone/\n", address)
}

// tell prints the complaints of a save where they differ from those of the last.
func (v *viewer) tell(r preview.Report) {
	v.mu.Lock()
	defer v.mu.Unlock()
	var b strings.Builder
	showAll(&b, v.dir, v.fsys, r.Complaints, v.w.colour())
	if r.Err != nil {
		fmt.Fprintf(&b, "slipleaf: %s\n", spelling.Clean(r.Err.Error()))
	}
	now := b.String()
	if !r.Whole {
		now += "the pages still show the last good save\n"
	}
	switch {
	case now == v.was:
	case now == "":
		fmt.Fprintln(v.w.Err, "all problems fixed")
	default:
		fmt.Fprint(v.w.Err, now)
	}
	v.was = now
}

func (v *viewer) say(message string) {
	v.mu.Lock()
	defer v.mu.Unlock()
	fmt.Fprintln(v.w.Err, "slipleaf:", spelling.Clean(message))
}

// browse opens an address in the grower's browser.
func browse(addr string) error {
	name, args := "xdg-open", []string{addr}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", addr}
	}
	if _, err := exec.LookPath(name); err != nil {
		return err
	}
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = os.Stderr, os.Stderr
	if err := cmd.Start(); err != nil {
		return err
	}
	go func() { _ = cmd.Wait() }() // it may stay open as long as it likes
	return nil
}

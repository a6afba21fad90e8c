package preview

import (
	"context"
	"errors"
	"io/fs"
	"net/http"
	"net/netip"
	"slices"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"

	"slipleaf/build/desk"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

// Options say what is previewed and whom to tell. All but Theme, Site and After are required.
type Options struct {
	Dir   string // the journal's folder, which is watched
	FS    fs.FS  // the same folder, which is read
	Theme string // a theme's folder that is watched as well; it is read through Site.Theme
	Port  int    // the first that is tried; 0: any free one
	Site  site.Options
	Day   func() quantity.Date // asked before each edition when Site.On is zero
	// Begun goes on where [Begin] ended; its zero value begins anew.
	Begun Begun
	// Phones are addresses of this machine at which devices that are paired are answered; Pair is told the address that pairs
	// the first one.
	Phones []netip.Addr
	Pair   func(address string)
	// Writer is what the forms of the desk write through; nil: the desk only shows.
	Writer desk.Writer
	// Shown is a complaint as a terminal without colours shows it: the place, the line, a caret, the hint.
	Shown func(c journal.Complaint) string
	// Ready gets the port, and the address of the desk on it, when there is something to look at.
	Ready func(port int, desk string)
	// Tell is told of every save, Say of what else the grower should know. Neither is called twice at a time.
	Tell func(Report)
	Say  func(message string)
	// After is the clock of quiet periods and polls; nil: that of the system.
	After func(time.Duration) <-chan time.Time
}

// Run shows a journal until ctx ends, which is no error. It stops the watching first, then the making, then the server,
// which finishes the answers that it has begun.
func Run(ctx context.Context, o Options) error {
	if o.After == nil {
		o.After = time.After
	}
	listeners, port, err := listen(o.Port)
	if err != nil {
		return err
	}
	ready := make(chan struct{})
	s := &server{shelf: newShelf(time.Now().UnixMilli()), ready: ready, stop: ctx.Done(), after: o.After, pass: newPass(port)}
	if o.Begun.token != "" {
		s.pass.token = o.Begun.token
	}
	s.forms = desk.New(s.site, s.newer, o.Writer)
	if o.Site.Photos != nil {
		s.forms.Ahead = o.Site.Photos.Ahead
	}
	webs := []*http.Server{newHTTP(s.handler(port))}
	phones, err := s.phones(o, port)
	if err != nil {
		return errors.Join(err, closeAll(listeners))
	}
	var wg sync.WaitGroup
	served := make(chan error, len(listeners)+len(phones))
	home := webs[0]
	for _, l := range listeners {
		wg.Go(func() { served <- home.Serve(limited(l, mostOpen)) })
	}
	for _, p := range phones {
		web := newHTTP(p.handler)
		webs = append(webs, web)
		wg.Go(func() { served <- web.Serve(limited(p, mostFromEach)) })
	}
	making, stop := context.WithCancel(ctx)
	failed := make(chan error, cap(served))
	wg.Go(func() { // a server that fails ends the preview
		for range cap(served) {
			if err := <-served; !errors.Is(err, http.ErrServerClosed) {
				failed <- err
				stop()
			}
		}
	})
	files := new(touched)
	m := &maker{load: o.loader(files), shown: o.Shown, tell: o.Tell, shelf: s.shelf, open: &s.open, days: make(chan struct{}, 1)}
	if o.Site.On.IsZero() {
		wg.Go(func() { o.turn(making, m.days) })
	}
	changes := watch(making, fsnotify.NewWatcher, o.watched(), files, o.After, o.Say)
	m.run(making, settle(changes, o.After), sync.OnceFunc(func() {
		close(ready)
		o.Ready(port, s.pass.address())
		if s.forms.Pairing != nil {
			address, _ := s.forms.Pairing.Fresh()
			o.Pair(address)
		}
	}))
	stop()
	for _, web := range webs {
		err = errors.Join(err, shutDown(web))
	}
	wg.Wait()
	select {
	case fault := <-failed:
		return fault
	default:
		return err
	}
}

// shutDown lets answers finish for a moment and cuts the rest off.
func shutDown(web *http.Server) error {
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Second)
	defer cancel()
	if err := web.Shutdown(ctx); err != nil {
		return web.Close()
	}
	return nil
}

// lookAtClock is how often it is asked whether a new day has begun: whoever wakes their machine in the morning does not wait
// for it (our choice).
const lookAtClock = 5 * time.Second

// turn tells of each new day: what is due is another then, and entries are dated otherwise, though nothing was saved.
func (o Options) turn(ctx context.Context, days chan<- struct{}) {
	for day := o.Day(); ; {
		select {
		case <-ctx.Done():
			return
		case <-o.After(lookAtClock):
		}
		if now := o.Day(); now != day {
			day = now
			note(days)
		}
	}
}

func (o Options) watched() []string {
	return slices.DeleteFunc([]string{o.Dir, o.Theme}, func(dir string) bool { return dir == "" })
}

// loader reads the journal again and again, each time only what may have changed.
func (o Options) loader(files *touched) func(ctx context.Context) (*page.Site, journal.Complaints, error) {
	memory := new(site.Memory)
	return func(ctx context.Context) (*page.Site, journal.Complaints, error) {
		so := o.Site
		if so.On.IsZero() {
			so.On = o.Day()
		}
		changed := files.take()
		so.Memory, so.Changed = memory, within(o.Dir, changed)
		b, complaints, err := site.Load(ctx, o.FS, so)
		if err != nil {
			files.back(changed)
		}
		return b, complaints, err
	}
}

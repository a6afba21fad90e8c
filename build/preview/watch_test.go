package preview

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"

	"slipleaf/build/facts"
	"slipleaf/build/journal"
	"slipleaf/build/page"
)

// crank is a clock that a test turns by hand: every timer that is asked for comes out of it.
type crank struct{ asked chan timer }

type timer struct {
	d    time.Duration
	fire chan time.Time
}

func newCrank() crank { return crank{make(chan timer)} }

func (c crank) after(d time.Duration) <-chan time.Time {
	t := timer{d, make(chan time.Time, 1)}
	c.asked <- t
	return t.fire
}

// next is the timer that is asked for next, which must be of a length.
func (c crank) next(t *testing.T, d time.Duration) timer {
	t.Helper()
	got := <-c.asked
	if got.d != d {
		t.Fatalf("a timer of %v, not %v", got.d, d)
	}
	return got
}

func TestABurstOfChangesIsOneSave(t *testing.T) {
	changes, clock := make(chan struct{}), newCrank()
	saves := settle(changes, clock.after)
	changes <- struct{}{}
	clock.next(t, longest)
	var last timer
	for range 20 { // each change begins the quiet period anew
		last = clock.next(t, quiet)
		changes <- struct{}{}
	}
	select {
	case <-saves:
		t.Fatal("a save before it was quiet")
	default:
	}
	last = clock.next(t, quiet)
	last.fire <- time.Time{}
	<-saves
	close(changes)
	if _, ok := <-saves; ok {
		t.Error("the burst was two saves")
	}
}

func TestChangesWithoutEndAreSavesAllTheSame(t *testing.T) {
	changes, clock := make(chan struct{}), newCrank()
	saves := settle(changes, clock.after)
	changes <- struct{}{}
	enough := clock.next(t, longest)
	clock.next(t, quiet)
	changes <- struct{}{}
	clock.next(t, quiet) // never over
	enough.fire <- time.Time{}
	<-saves
	changes <- struct{}{}
	clock.next(t, longest) // and from the start
	clock.next(t, quiet)
	close(changes)
}

// Where the system has no more watches, it is said, and the folders are looked through.
func TestFoldersAreLookedThroughWhereTheyCannotBeWatched(t *testing.T) {
	dir := onDisk(t, small())
	ctx, cancel := context.WithCancel(context.Background())
	said, clock := make(chan string, 1), newCrank()
	none := func() (*fsnotify.Watcher, error) { return nil, errors.New("too many open files") }
	changes := watch(ctx, none, []string{dir}, new(touched), clock.after, func(m string) { said <- m })
	if m := <-said; !strings.Contains(m, "too many open files") {
		t.Error(m)
	}
	<-changes // what may have been saved before
	tick := clock.next(t, pollEvery)
	for _, step := range []struct{ file, text string }{
		{"pages/about.md", "longer than it was before, at any rate, and by far"}, {"tanks/new/tank.md", "new"},
	} {
		save(t, dir, step.file, step.text)
		tick.fire <- time.Time{}
		<-changes
		tick = clock.next(t, pollEvery)
	}
	save(t, dir, ".hidden", "x") // not the journal's
	save(t, dir, "www/"+siteMarker, "slipleaf site 1")
	save(t, dir, "www/index.html", "x")
	tick.fire <- time.Time{}
	clock.next(t, pollEvery)
	select {
	case <-changes:
		t.Error("what is not of the journal was a change")
	default:
	}
	cancel()
	if _, ok := <-changes; ok {
		t.Error("changes after the end")
	}
}

// steered is a maker whose builds a test steers.
func steered(t *testing.T, load func(ctx context.Context, n int) (*page.Site, journal.Complaints, error)) (*maker, chan Report) {
	reports, n := make(chan Report, 10), 0
	m := &maker{shelf: newShelf(0), open: &lookers{}, shown: journal.Complaint.String, tell: func(r Report) { reports <- r }}
	m.load = func(ctx context.Context) (*page.Site, journal.Complaints, error) {
		n++
		return load(ctx, n)
	}
	return m, reports
}

func TestANewerSaveCancelsABuild(t *testing.T) {
	begun := make(chan int)
	m, reports := steered(t, func(ctx context.Context, n int) (*page.Site, journal.Complaints, error) {
		begun <- n
		if n <= mostOvertaken {
			<-ctx.Done() // it would take for ever
			return nil, nil, ctx.Err()
		}
		return bound(t, n), nil, nil
	})
	saves, ctx := make(chan struct{}), t.Context()
	go m.run(ctx, saves, func() {})
	for range mostOvertaken {
		<-begun
		saves <- struct{}{}
	}
	if n := <-begun; n != mostOvertaken+1 { // this one is let finish
		t.Errorf("build %d", n)
	}
	if r := <-reports; !r.Whole || r.Err != nil {
		t.Errorf("%+v", r)
	}
	saves <- struct{}{}
	<-begun
	<-reports
	if got := m.shelf.now.Load().number; got != 2 {
		t.Errorf("%d states, of which the cancelled builds have none", got)
	}
}

func TestAPanicIsABrokenSave(t *testing.T) {
	m, reports := steered(t, func(_ context.Context, n int) (*page.Site, journal.Complaints, error) {
		if n == 1 {
			panic("oh")
		}
		return bound(t, n), nil, nil
	})
	saves := make(chan struct{})
	go m.run(t.Context(), saves, func() {})
	if r := <-reports; r.Whole || r.Err == nil {
		t.Errorf("%+v", r)
	}
	saves <- struct{}{}
	if r := <-reports; !r.Whole {
		t.Errorf("%+v", r)
	}
}

func TestAPageThatPanicsIsAnError(t *testing.T) {
	e := &edition{asked: map[string]*makes{"/": {output: page.Output{Addr: "/", Record: func() ([]byte, []facts.Key, error) { panic("oh") }}}}}
	for range 2 {
		if _, ok, err := e.page("/"); !ok || err == nil {
			t.Error(ok, err)
		}
	}
}

func TestAComplaintInItsParts(t *testing.T) {
	for _, c := range []struct{ shown, head, line string }{
		{"a.md:1:5: error: no\n    x: y\n       ^\n  hint: z\n", "a.md:1:5: error: no", "x: y\n   ^"},
		{"a.md:1:5: error: no\n        - x\n        ^\n", "a.md:1:5: error: no", "    - x\n    ^"},
		{"a.md:1:5: error: no\n", "a.md:1:5: error: no", ""},
		{"", "", ""},
	} {
		x := trouble{Shown: c.shown}
		if x.Head() != c.head || x.Line() != c.line {
			t.Errorf("%q: %q, %q", c.shown, x.Head(), x.Line())
		}
	}
}

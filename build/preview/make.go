package preview

import (
	"context"
	"fmt"
	"time"

	"slipleaf/build/journal"
	"slipleaf/build/page"
)

// mostOvertaken is how many editions in a row a newer save may cancel: somebody who saves all the time sees something
// all the same.
const mostOvertaken = 3

// Report is what became of a save.
type Report struct {
	Complaints journal.Complaints
	Err        error // what kept the pages from being made, other than the journal
	Whole      bool  // the pages are new; otherwise those of the last whole save are shown
	Took       time.Duration
}

// maker makes editions, one after the other.
type maker struct {
	load  func(ctx context.Context) (*page.Site, journal.Complaints, error)
	shown func(journal.Complaint) string
	tell  func(Report)
	shelf *shelf
	open  *lookers
	days  chan struct{} // tells of each new day
}

// outcome is what a build came to.
type outcome struct {
	edition *edition
	report  Report
}

// run makes the first edition and one for each save and new day, until saves close or ctx ends. first is called when there is
// something to show.
func (m *maker) run(ctx context.Context, saves <-chan struct{}, first func()) {
	for {
		got, ok := m.newest(ctx, saves)
		if !ok {
			return
		}
		m.put(got)
		first()
		select {
		case <-ctx.Done():
			return
		case <-m.days:
		case _, ok := <-saves:
			if !ok {
				return
			}
		}
	}
}

// newest builds until nothing overtakes it.
func (m *maker) newest(ctx context.Context, saves <-chan struct{}) (outcome, bool) {
	for overtaken := 0; ; overtaken++ {
		if overtaken == mostOvertaken {
			saves = nil // the save that comes now is taken next
		}
		building, cancel := context.WithCancel(ctx)
		built := make(chan outcome, 1)
		go func() { built <- m.build(building) }()
		select {
		case got := <-built:
			cancel()
			return got, ctx.Err() == nil
		case <-saves: // also when they close, and the next build then ends at once
			cancel()
			<-built
		}
		if ctx.Err() != nil {
			return outcome{}, false
		}
	}
}

// build reads the journal and makes the pages that are being looked at, so that a template that does not work counts
// as a broken save. A panic is a fault of ours, and no reason to go away.
func (m *maker) build(ctx context.Context) (got outcome) {
	began := time.Now()
	defer func() {
		if r := recover(); r != nil {
			got = outcome{report: Report{Err: fmt.Errorf("a bug in Slipleaf: %v", r)}}
		}
		got.report.Took = time.Since(began)
	}()
	book, complaints, err := m.load(ctx)
	got.report = Report{Complaints: complaints, Err: err}
	if err != nil || book == nil {
		return got
	}
	old := m.shelf.now.Load().edition
	e := newEdition(book, old)
	looked := m.open.all()
	if old == nil || old.site.Theme.Sum != book.Theme.Sum { // templates may have broken where nobody looks
		looked = append(looked, page.HomeAddr)
	}
	for _, addr := range looked {
		if _, _, _, err := e.find(addr); err != nil && got.report.Err == nil {
			got.report.Err = fmt.Errorf("%s: %w", addr, err)
		}
	}
	if got.report.Err == nil {
		got.edition, got.report.Whole = e, true
	}
	return got
}

// put shows what was built, in the browser and on the terminal.
func (m *maker) put(got outcome) {
	var troubles []trouble
	for _, c := range got.report.Complaints {
		troubles = append(troubles, trouble{c, m.shown(c)})
	}
	failure := ""
	if got.report.Err != nil {
		failure = got.report.Err.Error()
	}
	m.shelf.put(got.edition, troubles, failure)
	m.tell(got.report)
}

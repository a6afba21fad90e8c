package journal

import (
	"fmt"
	"strings"
	"sync"
)

// MostListed is how many errors, and how many other complaints, are listed of a journal: a journal that was made to have
// millions would take all memory, and whoever has so many begins with the first.
const MostListed = 10_000

// Pile collects complaints, those of several goroutines too, and keeps the first errors and the first other complaints in
// their order, whatever the order in which they come. The zero Pile is empty.
type Pile struct {
	mu    sync.Mutex
	kinds [2]struct { // errors; warnings and notes
		list Complaints
		more int // dropped
	}
}

// Add takes complaints. full tells that there were too many of one kind by now.
func (p *Pile) Add(cs ...Complaint) (full bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, c := range cs {
		k := &p.kinds[min(int(c.Severity), 1)]
		if k.list = append(k.list, c); len(k.list) == 2*MostListed {
			p.trim()
		}
	}
	return p.kinds[0].more+p.kinds[1].more > 0
}

// drop counts a complaint that is not listed.
func (p *Pile) drop(s Severity) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.kinds[min(int(s), 1)].more++
}

// trim drops what comes behind the first ones.
func (p *Pile) trim() {
	for i := range p.kinds {
		k := &p.kinds[i]
		k.list.Sort()
		if n := len(k.list) - MostListed; n > 0 {
			clear(k.list[MostListed:])
			k.list, k.more = k.list[:MostListed], k.more+n
		}
	}
}

// List gives the complaints in their order, and says where there are more. That is an error where errors are not listed.
func (p *Pile) List() Complaints {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.trim()
	all := append(append(Complaints{}, p.kinds[0].list...), p.kinds[1].list...)
	var more []string
	for i, word := range []string{"errors", "warnings and notes"} {
		if n := p.kinds[i].more; n > 0 {
			more = append(more, fmt.Sprintf("%d more %s", n, word))
		}
	}
	if len(more) > 0 {
		c := complaint(ruleLimit, "journal.yaml", 1, 1, strings.Join(more, " and ")+" in this journal are not listed", "fix the ones that are listed first")
		if p.kinds[0].more == 0 {
			c.Severity = Note
		}
		all = append(all, c)
	}
	all.Sort()
	return all
}

package main

import (
	"fmt"
	"strings"
)

// A body is made of words of ours, with the marks that a diary uses: emphasis, links, and now and then a list or a table.
var words = strings.Fields(`water glass leaf root stem light week morning lamp snail gravel sand moss runner crown tip scissors bucket
rain tap hard soft slow fast green brown new old cut count weigh trim plant move wait look find the a of and to in it is was that with for on
as but from by not this they which have than then more less every once again still almost`)

// prose is two to four paragraphs of about fifty words.
func (p *plan) prose() string {
	var b strings.Builder
	for range 2 + p.rng.IntN(3) {
		p.paragraph(&b)
	}
	switch p.rng.IntN(12) {
	case 0:
		for range 4 {
			fmt.Fprintf(&b, "- %s %s %s\n", p.word(), p.word(), p.word())
		}
		b.WriteByte('\n')
	case 1:
		fmt.Fprintf(&b, "| what | how much |\n|---|---|\n| %s | %d |\n| %s | %d |\n\n", p.word(), p.rng.IntN(90), p.word(), p.rng.IntN(90))
	}
	return b.String()
}

func (p *plan) paragraph(b *strings.Builder) {
	n := 30 + p.rng.IntN(45)
	for i := range n {
		if i > 0 {
			b.WriteByte(' ')
		}
		switch {
		case i == n/2:
			id := p.plants[p.rng.IntN(len(p.plants))]
			fmt.Fprintf(b, "[the %s](plant:%s)", p.word(), id)
		case i%17 == 16:
			fmt.Fprintf(b, "*%s*", p.word())
		case i%13 == 12:
			b.WriteString(p.word() + ".")
		case i%7 == 6:
			b.WriteString(p.word() + ",")
		default:
			b.WriteString(p.word())
		}
	}
	b.WriteString(".\n\n")
}

func (p *plan) word() string { return words[p.rng.IntN(len(words))] }

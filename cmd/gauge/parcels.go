package main

import "fmt"

// codeLetters are those of a parcel's code.
const codeLetters = "0123456789abcdefghjkmnpqrstvwxyz"

func (p *plan) code() string {
	code := make([]byte, 25)
	for i := range code {
		code[i] = codeLetters[p.rng.IntN(len(codeLetters))]
	}
	return string(code)
}

// parcels sends each lot out in parcels of two or three plants, as far as they reach.
func (p *plan) parcels() {
	for i := range p.Parcels {
		if len(p.lots) == 0 {
			return
		}
		l := &p.lots[i%len(p.lots)]
		n := 2 + p.rng.IntN(2)
		if l.left < n {
			continue
		}
		l.left -= n
		p.parcel(i, l, n)
	}
}

func (p *plan) parcel(i int, l *lot, n int) {
	sent := l.ready.Add(1 + p.rng.IntN(6))
	if sent.After(lastDay) {
		sent = lastDay
	}
	head := fmt.Sprintf("---\nlot: %s\ncount: %d\nreserved: %s\nsent: %s\nhow: post\ncode: %s\nregion: %s\n", l.id, n, l.ready, sent, p.code(), region)
	if i%5 != 0 {
		head += fmt.Sprintf("water: {temperature: %d C, ph: %.1f, gh: %d dGH, kh: %d dKH}\n", 21+p.rng.IntN(6), 6.4+1.8*p.rng.Float64(), 3+p.rng.IntN(15), 1+p.rng.IntN(11))
		head += "tank:\n  inside: {length: 80 cm, width: 35 cm, height: 40 cm}\n  water-depth: 32 cm\n  co2: {injected: " + fmt.Sprint(i%3 == 0) +
			"}\n  light:\n    - {output: 1800 lm, kind: white led, length: 70 cm, above-water: 6 cm, hours: 8}\n"
	}
	if day := sent.Add(3); i%4 != 0 && !sent.Add(60).After(lastDay) {
		head += fmt.Sprintf("reports:\n  - {date: %s, outcome: arrived, alive: %d, days-in-post: 2}\n", day, n)
		if i%8 == 1 {
			head += fmt.Sprintf("  - {date: %s, outcome: lost, alive: 0, cause: melt}\n", day.Add(20))
		} else {
			head += fmt.Sprintf("  - {date: %s, outcome: growing, alive: %d}\n  - {date: %s, outcome: established, alive: %d}\n", day.Add(20), n, day.Add(50), n)
		}
	}
	p.add(fmt.Sprintf("sent/%s-%05d.md", sent, i), head+"---\n\n"+p.prose())
}

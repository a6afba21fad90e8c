package dynamics

// Made-up diaries of plants, with the truth behind each, to try the growth models on. Nothing here uses what the models are made
// of: what is tried shares no code with what tries it. Plants here grow in ways that the models do not know of.

import (
	"math"
	"math/rand/v2"
)

// lifeKind is a way in which a plant lives and is counted.
type lifeKind int

// The kinds.
const (
	Plain     lifeKind = iota // grows by the same share every day, but for chance; is counted with an error of 8 %
	Season                    // the rate swings by half with the year
	NewLamp                   // the rate halves, or rises by 60 %, at one stroke
	Cover                     // covers its ground: in steps of 5 %, up to 100 %
	Slowing                   // slows before it is as large as the grower wants it
	TwoPeople                 // two people count, each with a bias: they differ by some 20 %
	Few                       // one to a dozen plantlets, in whole numbers, 0 among them
	Outliers                  // one count of sixteen is wrong by a factor of 1.6 to 3
	Gaps                      // one interval of six lasts four to seven weeks
	Rest                      // does not grow for three days after each cut
	RoughCuts                 // what was cut is written with an error of 20 %
	Melts                     // now and then 15 to 40 % die, and nobody writes it
)

// lifeKinds lists them all.
func lifeKinds() []lifeKind {
	return []lifeKind{Plain, Season, NewLamp, Cover, Slowing, TwoPeople, Few, Outliers, Gaps, Rest, RoughCuts, Melts}
}

// String names the kind as tables do.
func (k lifeKind) String() string {
	return [...]string{"plain", "season", "new lamp", "cover", "slowing", "two people", "few plants", "wild counts", "gaps", "rest after cuts", "rough cuts", "silent losses"}[k]
}

// written is what was written of a count.
type written struct {
	Day, Size float64
	By        string // who counted; "" where one person does all
}

// writtenCut is what was written of a cut.
type writtenCut struct{ Day, Amount float64 }

// life is a diary and what truly was.
type life struct {
	Counts []written
	Cuts   []writtenCut
	Whole  bool    // sizes are whole numbers of plants
	Ground float64 // what it can cover, in the unit of the sizes; 0 where sizes have no ceiling
	Goal   float64 // the size at which it is cut

	Last  float64 // day of the last count
	Rate  float64 // true growth per day over the last four weeks; of a cover, as while there is room
	Mean  float64 // the same over the whole diary
	Net   bool    // losses that nobody wrote are in neither
	Reach float64 // day on which the true size next reaches the goal; +Inf: not within 300 days
}

// planted is what truly grows.
type planted struct {
	kind           lifeKind
	rng            *rand.Rand
	rate, ceiling  float64
	phase, turn    float64 // of the year; the day of the new lamp
	factor         float64
	size, day, cut float64
	bias           [2]float64
	gains          []float64 // for each day
}

// gain is the growth of one day, without chance.
func (p *planted) gain() float64 {
	r := p.rate
	switch {
	case p.kind == Season:
		r *= 1 + 0.5*math.Sin(2*math.Pi*p.day/365+p.phase)
	case p.kind == NewLamp && p.day >= p.turn:
		r *= p.factor
	case p.kind == Rest && p.day < p.cut+3:
		return 0
	}
	return r
}

// grow lets one day pass.
func (p *planted) grow() {
	g := p.gain()
	told := g
	if p.ceiling > 0 {
		g *= max(1-p.size/p.ceiling, 0)
		if p.kind != Cover {
			told = g
		}
	}
	p.gains = append(p.gains, told)
	p.size *= math.Exp(g + 0.01*p.rng.NormFloat64())
	if p.kind == Cover {
		p.size = min(p.size, p.ceiling*0.995)
	}
	if p.kind == Melts && p.rng.Float64() < 0.008 {
		p.size *= 0.6 + 0.25*p.rng.Float64()
	}
	p.day++
}

// seen is what is written of the size today.
func (p *planted) seen() written {
	c := written{Day: p.day, Size: p.size * math.Exp(0.08*p.rng.NormFloat64())}
	switch p.kind {
	case Cover: // guessed in steps of 5 %, never above all
		share := p.size/p.ceiling + 0.04*p.rng.NormFloat64()
		c.Size = p.ceiling * min(max(math.Round(share*20), 1), 20) / 20
	case TwoPeople:
		who := p.rng.IntN(2)
		c.By = [...]string{"ada", "bo"}[who]
		c.Size *= math.Exp(p.bias[who])
	case Few:
		c.Size = math.Round(c.Size)
	case Outliers:
		if p.rng.Float64() < 1./16 {
			f := 1.6 + 1.4*p.rng.Float64()
			if p.rng.Float64() < 0.5 {
				f = 1 / f
			}
			c.Size *= f
		}
	}
	return c
}

// trim cuts a third to two thirds, and gives what is written of it.
func (p *planted) trim() writtenCut {
	amount := p.size * (1 + p.rng.Float64()) / 3
	if p.kind == Few {
		amount = max(math.Round(amount), 1)
	}
	p.size = max(p.size-amount, 0.2)
	p.cut = p.day
	if p.kind == RoughCuts {
		amount *= math.Exp(0.2 * p.rng.NormFloat64())
	}
	return writtenCut{p.day, amount}
}

// pause is the number of days to the next count.
func (p *planted) pause() int {
	if p.kind == Gaps && p.rng.Float64() < 1./6 {
		return 28 + p.rng.IntN(22)
	}
	return 5 + p.rng.IntN(5)
}

// born draws a plant of a kind, and the size at which it will be cut.
func born(rng *rand.Rand, kind lifeKind, counts int, rate float64) (p *planted, goal float64) {
	p = &planted{kind: kind, rng: rng, rate: rate, size: 20, cut: -100}
	goal = p.size * (1.5 + 1.5*rng.Float64())
	p.phase, p.turn, p.factor = 2*math.Pi*rng.Float64(), 7*float64(counts)*(0.3+0.4*rng.Float64()), 0.5
	if rng.Float64() < 0.5 {
		p.factor = 1.6
	}
	apart := 0.15 * math.Sqrt2 * rng.NormFloat64() // the truth lies in the middle of what both count
	p.bias = [2]float64{apart / 2, -apart / 2}
	switch kind {
	case Cover:
		p.ceiling, p.size = 6, 6*(0.15+0.25*rng.Float64())
		goal = p.ceiling * (0.7 + 0.2*rng.Float64())
	case Slowing:
		p.ceiling = goal * (1.1 + 0.5*rng.Float64())
	case Few:
		p.size = 0.8 + 2*rng.Float64()
		goal = math.Round(6 + 8*rng.Float64())
	case Gaps:
		p.ceiling = 4 * goal
	}
	return p, goal
}

// makeLife draws a life with so many counts, cut whenever a count reaches the goal: mostly at once, else within three days.
func makeLife(rng *rand.Rand, kind lifeKind, counts int) life {
	return makeLifeAt(rng, kind, counts, 0.02+0.06*rng.Float64())
}

// makeLifeAt is makeLife for a plant that grows at a rate per day.
func makeLifeAt(rng *rand.Rand, kind lifeKind, counts int, rate float64) life {
	p, goal := born(rng, kind, counts, rate)
	l := life{Goal: goal, Net: kind == Melts, Whole: kind == Few}
	if kind == Cover {
		l.Ground = p.ceiling
	}
	for i := range counts {
		c := p.seen()
		l.Counts = append(l.Counts, c)
		wait := -1 // days until it is cut
		if c.Size >= goal {
			if wait = 0; rng.Float64() < 0.2 && i < counts-1 {
				wait = 1 + rng.IntN(3)
			}
		}
		if wait == 0 {
			l.Cuts = append(l.Cuts, p.trim())
		}
		if i == counts-1 {
			break
		}
		for d := range p.pause() {
			if d == wait && d > 0 {
				l.Cuts = append(l.Cuts, p.trim())
			}
			p.grow()
		}
	}
	l.Last = p.day
	l.Mean = mean(p.gains)
	l.Rate = mean(p.gains[max(0, len(p.gains)-28):])
	l.Reach = p.reach(goal)
	return l
}

// reach lets the plant grow on, uncut, to the size.
func (p *planted) reach(goal float64) float64 {
	for range 300 {
		if p.size >= goal {
			return p.day
		}
		before := p.size
		p.grow()
		if p.size >= goal {
			return p.day - math.Log(p.size/goal)/math.Log(p.size/before)
		}
	}
	return math.Inf(1)
}

func mean(of []float64) float64 {
	sum := 0.0
	for _, x := range of {
		sum += x
	}
	return sum / float64(max(len(of), 1))
}

package dynamics

import (
	"math"
	"math/rand/v2"
)

// shape is how a made-up stand grows.
type shape int

const (
	exponential shape = iota
	levelling         // logistic
	lagging           // three days without growth after each cut
)

func (s shape) String() string { return [...]string{"exponential", "logistic", "lag of 3 d"}[s] }

// cell is one kind of made-up diary.
type cell struct {
	n     int     // counts
	m, q  float64 // error of a count, unevenness
	shape shape
}

// made is a made-up diary and the truth behind it.
type made struct {
	series Series
	r      float64
	goal   float64
	next   float64 // day of the next count
	size   float64 // true size then
	count  float64 // what is counted then
	reach  float64 // day on which the true size reaches the goal; +Inf never
	last   float64
}

// stand is what truly grows.
type stand struct {
	cell
	rng         *rand.Rand
	r, holds    float64
	size        float64
	day, cutDay float64
}

// step lets one day pass.
func (s *stand) step() {
	gain := s.r
	switch {
	case s.shape == levelling:
		gain *= 1 - s.size/s.holds
	case s.shape == lagging && s.day < s.cutDay+3:
		gain = 0
	}
	s.size *= math.Exp(gain + s.q*s.rng.NormFloat64())
	s.day++
}

// cut takes a third to two thirds.
func (s *stand) cut(out *Series) {
	c := s.size * (1 + s.rng.Float64()) / 3
	out.Changes = append(out.Changes, Change{s.day, -c, Trim})
	s.size -= c
	s.cutDay = s.day
}

// simulate makes a diary: counts every 5 to 9 days of a stand that grows by 2 to 8 % a day; a cut when the count
// reaches the goal, mostly on the day of the count, else one to three days later.
func simulate(rng *rand.Rand, c cell) made {
	s := &stand{cell: c, rng: rng, r: 0.02 + 0.06*rng.Float64(), size: 20, cutDay: -100}
	goal := s.size * (1.5 + 1.5*rng.Float64())
	s.holds = goal * (1.2 + 1.3*rng.Float64())
	out := made{r: s.r, goal: goal}
	for i := range c.n {
		seen := s.size * math.Exp(c.m*rng.NormFloat64())
		out.series.Counts = append(out.series.Counts, Count{s.day, seen})
		late := 0
		if rng.Float64() < 0.2 {
			late = 1 + rng.IntN(3)
		}
		due := seen >= goal
		if due && (late == 0 || i == c.n-1) {
			s.cut(&out.series)
		}
		if i == c.n-1 {
			break
		}
		for d := range 5 + rng.IntN(5) {
			if due && late > 0 && d == late {
				s.cut(&out.series)
			}
			s.step()
		}
	}
	out.last = s.day
	out.foretell(s, rng)
	return out
}

// foretell lets the stand grow on to the next count and to the goal.
func (m *made) foretell(s *stand, rng *rand.Rand) {
	m.next, m.reach = s.day+float64(5+rng.IntN(5)), math.Inf(1)
	before := s.size
	for s.day <= m.last+400 {
		if s.size >= m.goal && math.IsInf(m.reach, 1) {
			m.reach = s.day
			if before < m.goal { // some hours earlier
				m.reach -= math.Log(s.size/m.goal) / math.Log(s.size/before)
			}
		}
		before = s.size
		if s.day == m.next {
			m.size = s.size
		}
		if m.size > 0 && m.reach <= s.day {
			break
		}
		s.step()
	}
	m.count = m.size * math.Exp(s.m*rng.NormFloat64())
}

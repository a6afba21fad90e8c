package draw

import (
	"math"
	"strconv"
)

// pt is a point in units of the drawing, y downwards as in SVG.
type pt struct{ x, y float64 }

func (p pt) plus(angle, length float64) pt {
	return pt{p.x + length*math.Cos(angle), p.y + length*math.Sin(angle)}
}

func mid(a, b pt) pt { return pt{(a.x + b.x) / 2, (a.y + b.y) / 2} }

func apart(a, b pt) float64 { return math.Hypot(b.x-a.x, b.y-a.y) }

// box is the ground that a drawing covers.
type box struct {
	lo, hi pt
	some   bool
}

func (b *box) add(p pt) {
	if !b.some {
		b.lo, b.hi, b.some = p, p, true
		return
	}
	b.lo = pt{math.Min(b.lo.x, p.x), math.Min(b.lo.y, p.y)}
	b.hi = pt{math.Max(b.hi.x, p.x), math.Max(b.hi.y, p.y)}
}

func (b box) wide() float64 { return b.hi.x - b.lo.x }
func (b box) tall() float64 { return b.hi.y - b.lo.y }

// path is an outline or a line: operations and their points. 'R' is a smooth run: a control, the points whose middles the
// curve passes, and the end.
type path struct {
	ops  []byte
	pts  []pt
	runs []int // points of each 'R'
}

func (a *path) move(p pt)        { a.ops, a.pts = append(a.ops, 'M'), append(a.pts, p) }
func (a *path) line(p pt)        { a.ops, a.pts = append(a.ops, 'L'), append(a.pts, p) }
func (a *path) quad(c, p pt)     { a.ops, a.pts = append(a.ops, 'Q'), append(a.pts, c, p) }
func (a *path) cubic(b, c, p pt) { a.ops, a.pts = append(a.ops, 'C'), append(a.pts, b, c, p) }
func (a *path) close()           { a.ops = append(a.ops, 'Z') }
func (a *path) empty() bool      { return len(a.ops) == 0 }

// run goes on from the pen's place smoothly along the points.
func (a *path) run(pts []pt) {
	if len(pts) < 2 {
		for _, p := range pts {
			a.line(p)
		}
		return
	}
	a.ops, a.runs, a.pts = append(a.ops, 'R'), append(a.runs, len(pts)), append(a.pts, pts...)
}

// stroke is a new smooth line along the points.
func (a *path) stroke(pts []pt) {
	a.move(pts[0])
	a.run(pts[1:])
}

// add appends another path.
func (a *path) add(b path) {
	a.ops, a.pts, a.runs = append(a.ops, b.ops...), append(a.pts, b.pts...), append(a.runs, b.runs...)
}

// ring is a closed ellipse of four arcs.
func (a *path) ring(c pt, rx, ry float64) {
	const k = 0.5523 // of a circle by cubics
	a.move(pt{c.x - rx, c.y})
	a.cubic(pt{c.x - rx, c.y - k*ry}, pt{c.x - k*rx, c.y - ry}, pt{c.x, c.y - ry})
	a.cubic(pt{c.x + k*rx, c.y - ry}, pt{c.x + rx, c.y - k*ry}, pt{c.x + rx, c.y})
	a.cubic(pt{c.x + rx, c.y + k*ry}, pt{c.x + k*rx, c.y + ry}, pt{c.x, c.y + ry})
	a.cubic(pt{c.x - k*rx, c.y + ry}, pt{c.x - rx, c.y + k*ry}, pt{c.x - rx, c.y})
	a.close()
}

// each calls f for every piece of the path with at most four points, runs as quadratics; from is where the pen was.
func (a path) each(f func(op byte, from pt, p []pt)) {
	var at, start pt
	i, r := 0, 0
	for _, op := range a.ops {
		n := pointsOf[op]
		switch op {
		case 'R':
			n = a.runs[r]
			r++
			at = eachOfRun(at, a.pts[i:i+n], f)
		case 'Z':
			f(op, at, nil)
			at = start
		default:
			f(op, at, a.pts[i:i+n])
			at = a.pts[i+n-1]
			if op == 'M' {
				start = at
			}
		}
		i += n
	}
}

var pointsOf = [...]int{'M': 1, 'L': 1, 'Q': 2, 'C': 3, 'R': 0, 'Z': 0}

func eachOfRun(at pt, pts []pt, f func(op byte, from pt, p []pt)) pt {
	for k := range len(pts) - 1 {
		end := pts[k+1]
		if k < len(pts)-2 {
			end = mid(pts[k], pts[k+1])
		}
		f('Q', at, []pt{pts[k], end})
		at = end
	}
	return at
}

// pen writes path data: relative commands in tenths of a unit. Rounding happens to the absolute point, so that errors do
// not add up. The controls of a run mirror each other, so that all but the first are left out; each end is set from the
// mirrored point as it was rounded.
type pen struct {
	buf            []byte
	x, y           int // tenths
	startX, startY int
	op             byte
	dot            bool // the number before had a decimal point
}

// data writes the path.
func (a path) data(buf []byte) []byte {
	p := pen{buf: buf}
	i, r := 0, 0
	for _, op := range a.ops {
		switch op {
		case 'M':
			p.step('m', a.pts[i:i+1])
			p.startX, p.startY = p.x, p.y
			i++
		case 'L':
			p.step('l', a.pts[i:i+1])
			i++
		case 'Q':
			p.step('q', a.pts[i:i+2])
			i += 2
		case 'C':
			p.step('c', a.pts[i:i+3])
			i += 3
		case 'R':
			n := a.runs[r]
			r++
			p.mirrored(a.pts[i : i+n])
			i += n
		case 'Z':
			p.buf = append(p.buf, 'z')
			p.x, p.y, p.op = p.startX, p.startY, 'z'
		}
	}
	return p.buf
}

func (p *pen) mirrored(pts []pt) {
	c := pt{math.Round(pts[0].x*10) / 10, math.Round(pts[0].y*10) / 10}
	for k := range len(pts) - 1 {
		end := pts[k+1]
		if k < len(pts)-2 {
			end = mid(c, pts[k+1])
		}
		if k == 0 {
			p.step('q', []pt{c, end})
		} else {
			p.step('t', []pt{end})
		}
		c = pt{float64(2*p.x)/10 - c.x, float64(2*p.y)/10 - c.y}
	}
}

// step writes one command, without its letter where that repeats.
func (p *pen) step(op byte, pts []pt) {
	first := op != p.op || op == 'm'
	if first {
		p.buf = append(p.buf, op)
		p.dot = false
	}
	p.op = op
	x, y := p.x, p.y
	for _, q := range pts {
		nx, ny := tenths(q.x), tenths(q.y)
		p.number(nx-x, first)
		p.number(ny-y, false)
		first = false
		p.x, p.y = nx, ny
	}
}

// number writes n tenths, parted from the number before only where it must be.
func (p *pen) number(n int, first bool) {
	point := n > -10 && n < 10 && n%10 != 0
	if !first && n >= 0 && !(point && p.dot) {
		p.buf = append(p.buf, ' ')
	}
	p.buf = appendTenths(p.buf, n)
	p.dot = n%10 != 0
}

// tenths rounds half up, which unlike half away from zero gives the same distance to shapes left and right of nought.
func tenths(v float64) int { return int(math.Floor(v*10 + 0.5)) }

// appendTenths writes n/10 with at most one decimal and without a leading nought.
func appendTenths(b []byte, n int) []byte {
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	if n >= 10 || n%10 == 0 {
		b = strconv.AppendInt(b, int64(n/10), 10)
	}
	if n%10 != 0 {
		b = append(b, '.', byte('0'+n%10))
	}
	return b
}

// num writes a number for an attribute, with at most one decimal.
func num(v float64) string { return string(appendTenths(nil, tenths(v))) }

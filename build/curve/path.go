package curve

import (
	"math"
	"strconv"
)

// Pt is a point in units of the drawing, y downwards as in SVG.
type Pt struct{ X, Y float64 }

func (p Pt) Plus(angle, length float64) Pt {
	return Pt{p.X + length*math.Cos(angle), p.Y + length*math.Sin(angle)}
}

func Mid(a, b Pt) Pt { return Pt{(a.X + b.X) / 2, (a.Y + b.Y) / 2} }

func Apart(a, b Pt) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// Box is the ground that a drawing covers.
type Box struct {
	Lo, Hi Pt
	some   bool
}

func (b *Box) Add(p Pt) {
	if !b.some {
		b.Lo, b.Hi, b.some = p, p, true
		return
	}
	b.Lo = Pt{math.Min(b.Lo.X, p.X), math.Min(b.Lo.Y, p.Y)}
	b.Hi = Pt{math.Max(b.Hi.X, p.X), math.Max(b.Hi.Y, p.Y)}
}

func (b Box) Wide() float64 { return b.Hi.X - b.Lo.X }
func (b Box) Tall() float64 { return b.Hi.Y - b.Lo.Y }

// Meets tells whether two boxes have a point in common.
func (b Box) Meets(c Box) bool {
	return b.some && c.some && b.Lo.X <= c.Hi.X && c.Lo.X <= b.Hi.X && b.Lo.Y <= c.Hi.Y && c.Lo.Y <= b.Hi.Y
}

// Grown is the box with a margin all around.
func (b Box) Grown(by float64) Box {
	b.Lo, b.Hi = Pt{b.Lo.X - by, b.Lo.Y - by}, Pt{b.Hi.X + by, b.Hi.Y + by}
	return b
}

// Path is an outline or a line: operations and their points. 'R' is a smooth run: a control, the points whose middles the
// curve passes, and the end.
type Path struct {
	ops  []byte
	Pts  []Pt
	runs []int // points of each 'R'
}

// Move begins anew at a point, and goes straight on to others.
func (a *Path) Move(p Pt, on ...Pt) {
	a.ops, a.Pts = append(a.ops, 'M'), append(a.Pts, p)
	for _, q := range on {
		a.Line(q)
	}
}

func (a *Path) Line(p Pt)        { a.ops, a.Pts = append(a.ops, 'L'), append(a.Pts, p) }
func (a *Path) Quad(c, p Pt)     { a.ops, a.Pts = append(a.ops, 'Q'), append(a.Pts, c, p) }
func (a *Path) Cubic(b, c, p Pt) { a.ops, a.Pts = append(a.ops, 'C'), append(a.Pts, b, c, p) }
func (a *Path) Close()           { a.ops = append(a.ops, 'Z') }
func (a *Path) Empty() bool      { return len(a.ops) == 0 }

// Run goes on from the pen's place smoothly along the points.
func (a *Path) Run(pts []Pt) {
	if len(pts) < 2 {
		for _, p := range pts {
			a.Line(p)
		}
		return
	}
	a.ops, a.runs, a.Pts = append(a.ops, 'R'), append(a.runs, len(pts)), append(a.Pts, pts...)
}

// Stroke is a new smooth line along the points.
func (a *Path) Stroke(pts []Pt) {
	a.Move(pts[0])
	a.Run(pts[1:])
}

// Add appends another path.
func (a *Path) Add(b Path) {
	a.ops, a.Pts, a.runs = append(a.ops, b.ops...), append(a.Pts, b.Pts...), append(a.runs, b.runs...)
}

// Ring is a closed ellipse of four arcs.
func (a *Path) Ring(c Pt, rx, ry float64) {
	const k = 0.5523 // of a circle by cubics
	a.Move(Pt{c.X - rx, c.Y})
	a.Cubic(Pt{c.X - rx, c.Y - k*ry}, Pt{c.X - k*rx, c.Y - ry}, Pt{c.X, c.Y - ry})
	a.Cubic(Pt{c.X + k*rx, c.Y - ry}, Pt{c.X + rx, c.Y - k*ry}, Pt{c.X + rx, c.Y})
	a.Cubic(Pt{c.X + rx, c.Y + k*ry}, Pt{c.X + k*rx, c.Y + ry}, Pt{c.X, c.Y + ry})
	a.Cubic(Pt{c.X - k*rx, c.Y + ry}, Pt{c.X - rx, c.Y + k*ry}, Pt{c.X - rx, c.Y})
	a.Close()
}

// Each calls f for every piece of the path with at most four points, runs as quadratics; from is where the pen was.
func (a Path) Each(f func(op byte, from Pt, p []Pt)) {
	var at, start Pt
	i, r := 0, 0
	for _, op := range a.ops {
		n := pointsOf[op]
		switch op {
		case 'R':
			n = a.runs[r]
			r++
			at = eachOfRun(at, a.Pts[i:i+n], f)
		case 'Z':
			f(op, at, nil)
			at = start
		default:
			f(op, at, a.Pts[i:i+n])
			at = a.Pts[i+n-1]
			if op == 'M' {
				start = at
			}
		}
		i += n
	}
}

var pointsOf = [...]int{'M': 1, 'L': 1, 'Q': 2, 'C': 3, 'R': 0, 'Z': 0}

func eachOfRun(at Pt, pts []Pt, f func(op byte, from Pt, p []Pt)) Pt {
	for k := range len(pts) - 1 {
		end := pts[k+1]
		if k < len(pts)-2 {
			end = Mid(pts[k], pts[k+1])
		}
		f('Q', at, []Pt{pts[k], end})
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
	grid           int  // tenths: points lie on multiples of it
}

// Data writes the path to a tenth of a unit.
func (a Path) Data(buf []byte) []byte { return a.onGrid(buf, 1) }

// Rough writes the path to whole units, in about two thirds of the bytes; one whose points are close to each other, which
// would lose its shape, to a tenth.
func (a Path) Rough(buf []byte) []byte {
	far := 0.0
	for i := range len(a.Pts) - 1 {
		far += Apart(a.Pts[i], a.Pts[i+1])
	}
	if far < 3.5*float64(len(a.Pts)) {
		return a.Data(buf)
	}
	return a.onGrid(buf, 10)
}

func (a Path) onGrid(buf []byte, grid int) []byte {
	p := pen{buf: buf, grid: grid}
	i, r := 0, 0
	for _, op := range a.ops {
		switch op {
		case 'M':
			p.step('m', a.Pts[i:i+1])
			p.startX, p.startY = p.x, p.y
			i++
		case 'L':
			p.step('l', a.Pts[i:i+1])
			i++
		case 'Q':
			p.step('q', a.Pts[i:i+2])
			i += 2
		case 'C':
			p.step('c', a.Pts[i:i+3])
			i += 3
		case 'R':
			n := a.runs[r]
			r++
			p.mirrored(a.Pts[i : i+n])
			i += n
		case 'Z':
			p.buf = append(p.buf, 'z')
			p.x, p.y, p.op = p.startX, p.startY, 'z'
		}
	}
	return p.buf
}

func (p *pen) mirrored(pts []Pt) {
	c := Pt{float64(p.round(pts[0].X)) / 10, float64(p.round(pts[0].Y)) / 10}
	for k := range len(pts) - 1 {
		end := pts[k+1]
		if k < len(pts)-2 {
			end = Mid(c, pts[k+1])
		}
		if k == 0 {
			p.step('q', []Pt{c, end})
		} else {
			p.step('t', []Pt{end})
		}
		c = Pt{float64(2*p.x)/10 - c.X, float64(2*p.y)/10 - c.Y}
	}
}

// step writes one command, without its letter where that repeats.
func (p *pen) step(op byte, pts []Pt) {
	first := op != p.op || op == 'm'
	if first {
		p.buf = append(p.buf, op)
		p.dot = false
	}
	p.op = op
	x, y := p.x, p.y
	for _, q := range pts {
		nx, ny := p.round(q.X), p.round(q.Y)
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

// round is a coordinate in tenths, on the grid.
func (p *pen) round(v float64) int {
	if p.grid == 1 {
		return tenths(v)
	}
	return int(math.Floor(v*10/float64(p.grid)+0.5)) * p.grid
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

// Num writes a number for an attribute, with at most one decimal.
func Num(v float64) string { return string(appendTenths(nil, tenths(v))) }

package draw

import (
	"math"
	"strconv"
)

// pt is a point in millimetres, y downwards as in SVG.
type pt struct{ x, y float64 }

func (p pt) plus(angle, length float64) pt {
	return pt{p.x + length*math.Cos(angle), p.y + length*math.Sin(angle)}
}

// box is the ground that a drawing covers, in millimetres.
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

// pen writes path data: relative commands in tenths of a unit, which is a third shorter than absolute ones. Rounding
// happens to the absolute point, so that errors do not add up along the path.
type pen struct {
	buf            []byte
	scale          float64 // units a millimetre
	origin         pt      // where the figure being drawn has its foot, mm
	off            pt      // added after scaling, units
	x, y           int     // where the pen is, tenths
	startX, startY int
	whole          bool // keep to whole units: saves a quarter of the bytes
	box            *box
}

func (p *pen) tenths(q pt) (x, y int) {
	q = pt{q.x + p.origin.x, q.y + p.origin.y}
	if p.box != nil {
		p.box.add(q)
	}
	if p.whole {
		return tenths((q.x*p.scale+p.off.x)/10) * 10, tenths((q.y*p.scale+p.off.y)/10) * 10
	}
	return tenths(q.x*p.scale + p.off.x), tenths(q.y*p.scale + p.off.y)
}

func (p *pen) empty() bool { return len(p.buf) == 0 }

func (p *pen) move(q pt) {
	x, y := p.tenths(q)
	p.buf = append(p.buf, 'M')
	p.pair(x, y, true)
	p.x, p.y, p.startX, p.startY = x, y, x, y
}

func (p *pen) line(q pt) {
	x, y := p.tenths(q)
	p.buf = append(p.buf, 'l')
	p.pair(x-p.x, y-p.y, true)
	p.x, p.y = x, y
}

func (p *pen) quad(c, q pt) {
	cx, cy := p.tenths(c)
	x, y := p.tenths(q)
	p.buf = append(p.buf, 'q')
	p.pair(cx-p.x, cy-p.y, true)
	p.pair(x-p.x, y-p.y, false)
	p.x, p.y = x, y
}

func (p *pen) cubic(a, b, q pt) {
	ax, ay := p.tenths(a)
	bx, by := p.tenths(b)
	x, y := p.tenths(q)
	p.buf = append(p.buf, 'c')
	p.pair(ax-p.x, ay-p.y, true)
	p.pair(bx-p.x, by-p.y, false)
	p.pair(x-p.x, y-p.y, false)
	p.x, p.y = x, y
}

func (p *pen) close() {
	p.buf = append(p.buf, 'z')
	p.x, p.y = p.startX, p.startY
}

func (p *pen) pair(x, y int, first bool) {
	if !first && x >= 0 {
		p.buf = append(p.buf, ' ')
	}
	p.buf = appendTenths(p.buf, x)
	if y >= 0 {
		p.buf = append(p.buf, ' ')
	}
	p.buf = appendTenths(p.buf, y)
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

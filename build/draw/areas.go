package draw

import (
	"image/color"
	"math"

	"slipleaf/build/curve"
)

// Area is a filled outline, for pictures that are no SVG: its rings are painted in one ink, whatever lies within any of them.
type Area struct {
	Ink   color.RGBA
	Rings [][]curve.Pt
}

// own are the plants' colours by day, as in the theme; mixes are what a tone is mixed with, and how much of it.
var own = [...]color.RGBA{Green: hex(0x5c8a33), Fresh: hex(0x678a35), Deep: hex(0x2f664b), Brown: hex(0x8a5a38), Red: hex(0xa8443a), Olive: hex(0x7d7a3a),
	Pale: hex(0x668a47), Mossy: hex(0x4d6f35), Wood: hex(0x86694a), Stone: hex(0x8d9089), Root: hex(0x94784f), Rot: hex(0x5b4327)}

var (
	deepest, highest, darkest = hex(0x0f332c), hex(0xefe48f), hex(0x0c211a)
	tones                     = [...]struct {
		with color.RGBA
		part float64
	}{shade: {deepest, 0.34}, plainT: {deepest, 0.06}, light: {highest, 0.24}, young: {highest, 0.46}, edgeTone: {darkest, 0.62}}
)

// edgeTone is the tone of outlines.
const edgeTone = young + 1

func hex(n uint32) color.RGBA { return color.RGBA{uint8(n >> 16), uint8(n >> 8), uint8(n), 255} }

// ink is a tone of a colour.
func ink(t Tint, tone int) color.RGBA {
	a, b := own[max(0, min(int(t), len(own)-1))], tones[tone]
	mix := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*b.part)) }
	return color.RGBA{mix(a.R, b.with.R), mix(a.G, b.with.G), mix(a.B, b.with.B), 255}
}

// Inks are all that an Area may be painted in.
func Inks() []color.RGBA {
	var out []color.RGBA
	for t := range own {
		for tone := range tones {
			out = append(out, ink(Tint(t), tone))
		}
	}
	return out
}

// strokes are the tone and the least width that lines are painted with.
var strokes = map[string]struct {
	tone  int
	least float64
}{stemLine: {plainT, 1}, rootLine: {plainT, 1}, stalkLine: {shade, 1}, veinLine: {young, 0.8}, inkLine: {edgeTone, 0.7}}

// Areas is the plant as filled outlines, back to front, so large that it fits the width and height; its foot is at their
// lower edge.
func (p Plate) Areas(width, height float64) []Area {
	p = p.short()
	k := p.fit(width, height, 2, func(k *sketch) { p.single(k, true) })
	dx, dy := (width-k.box.Lo.X-k.box.Hi.X)/2, height-k.box.Hi.Y
	var out []Area
	for _, m := range k.marks {
		lines := m.path.Flat(dx, dy)
		if m.leaf {
			out = append(out, Area{ink(m.hue, m.tone), lines}, Area{ink(m.hue, edgeTone), curve.Bands(lines, [...]float64{1, 0.8, 0.6, 0.4}[k.outline(m.cell)])})
		} else if s, ok := strokes[m.class]; ok {
			out = append(out, Area{ink(m.hue, s.tone), curve.Bands(lines, math.Max(s.least, m.width))})
		}
	}
	return out
}

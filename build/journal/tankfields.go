package journal

import (
	"fmt"

	"slipleaf/build/head"
	"slipleaf/build/spelling"
)

// tankFields are the keys of tank.md.
var tankFields = []field[Tank]{
	{"name", func(d *decoder, n *head.Node, t *Tank) { t.Name = d.line(n) }},
	{"began", func(d *decoder, n *head.Node, t *Tank) { t.Began = d.date(n) }},
	{"ended", func(d *decoder, n *head.Node, t *Tank) { t.Ended = d.date(n) }},
	{"inside", func(d *decoder, n *head.Node, t *Tank) { readMapping(d, n, insideFields, &t.Inside) }},
	{"water-depth", func(d *decoder, n *head.Node, t *Tank) { set(d, n, &t.WaterDepth) }},
	{"substrate", func(d *decoder, n *head.Node, t *Tank) { t.Substrate = readList(d, n, layerFields, nil) }},
	{"light", func(d *decoder, n *head.Node, t *Tank) { t.Light = readList(d, n, lampFields, checkLamp) }},
	{"co2", func(d *decoder, n *head.Node, t *Tank) { readMapping(d, n, co2Fields, &t.CO2) }},
	{"flow", func(d *decoder, n *head.Node, t *Tank) { readMapping(d, n, flowFields, &t.Flow) }},
	{"livestock", func(d *decoder, n *head.Node, t *Tank) { t.Livestock = readList(d, n, livestockFields, nil) }},
	{"tap", func(d *decoder, n *head.Node, t *Tank) { readMapping(d, n, parameterFields, &t.Tap) }},
	{"target", func(d *decoder, n *head.Node, t *Tank) { readMapping(d, n, parameterFields, &t.Target) }},
	{"grown", func(d *decoder, n *head.Node, t *Tank) { t.Grown = d.choice(n, "submersed", "emersed") }},
	{"trim-when", func(d *decoder, n *head.Node, t *Tank) { t.TrimWhen = d.trimWhenByPlant(n) }},
	{"private", func(d *decoder, n *head.Node, t *Tank) { t.Private = d.private(n) }},
}

var insideFields = []field[Inside]{
	{"length", func(d *decoder, n *head.Node, i *Inside) { set(d, n, &i.Length) }},
	{"width", func(d *decoder, n *head.Node, i *Inside) { set(d, n, &i.Width) }},
	{"height", func(d *decoder, n *head.Node, i *Inside) { set(d, n, &i.Height) }},
}

var layerFields = []field[Layer]{
	{"material", func(d *decoder, n *head.Node, l *Layer) { l.Material = d.line(n) }},
	{"depth", func(d *decoder, n *head.Node, l *Layer) { set(d, n, &l.Depth) }},
	{"nutrients", func(d *decoder, n *head.Node, l *Layer) { l.Nutrients = d.choice(n, "none", "some", "rich") }},
}

var lampFields = []field[Lamp]{
	{"name", func(d *decoder, n *head.Node, l *Lamp) { l.Name = d.line(n) }},
	{"power", func(d *decoder, n *head.Node, l *Lamp) { set(d, n, &l.Power) }},
	{"efficacy", func(d *decoder, n *head.Node, l *Lamp) { set(d, n, &l.Efficacy) }},
	{"output", func(d *decoder, n *head.Node, l *Lamp) { set(d, n, &l.Output) }},
	{"kind", func(d *decoder, n *head.Node, l *Lamp) { l.Kind = d.line(n) }},
	{"length", func(d *decoder, n *head.Node, l *Lamp) { set(d, n, &l.Length) }},
	{"width", func(d *decoder, n *head.Node, l *Lamp) { set(d, n, &l.Width) }},
	{"above-water", func(d *decoder, n *head.Node, l *Lamp) { setFromZero(d, n, &l.AboveWater) }},
	{"hours", func(d *decoder, n *head.Node, l *Lamp) { l.Hours = d.hours(n) }},
	{"dimmed-to", func(d *decoder, n *head.Node, l *Lamp) { set(d, n, &l.DimmedTo) }},
}

// checkLamp asks for what makes an output of light: lumens mean nothing without the kind of lamp.
func checkLamp(d *decoder, n *head.Node, l *Lamp) {
	if out := n.Child("output"); out != nil && n.Child("kind") == nil {
		d.at(n, ruleMissingKey, "a lamp given in lumens needs kind", "add it, as in kind: white led")
	}
}

var co2Fields = []field[Tristate]{
	{"injected", func(d *decoder, n *head.Node, t *Tristate) { *t = d.yes(n) }},
}

var flowFields = []field[Flow]{
	{"rate", func(d *decoder, n *head.Node, f *Flow) { set(d, n, &f.Rate) }},
	{"device", func(d *decoder, n *head.Node, f *Flow) { f.Device = d.line(n) }},
}

var livestockFields = []field[Livestock]{
	{"kind", func(d *decoder, n *head.Node, l *Livestock) { l.Kind = d.line(n) }},
	{"count", func(d *decoder, n *head.Node, l *Livestock) { l.Count, _ = d.whole(n, 0, most) }},
}

// parameterFields are [parameters] as the keys of a mapping.
var parameterFields = func() (out []field[Parameters]) {
	for _, p := range parameters {
		out = append(out, field[Parameters]{p.key, p.read})
	}
	return out
}()

var trimWhenFields = []field[TrimWhen]{
	{"stem-length", func(d *decoder, n *head.Node, t *TrimWhen) { set(d, n, &t.StemLength) }},
	{"total-length", func(d *decoder, n *head.Node, t *TrimWhen) { set(d, n, &t.TotalLength) }},
	{"cover", func(d *decoder, n *head.Node, t *TrimWhen) { set(d, n, &t.Cover) }},
	{"leaves", func(d *decoder, n *head.Node, t *TrimWhen) { t.Leaves, _ = d.whole(n, 1, most) }},
	{"plantlets", func(d *decoder, n *head.Node, t *TrimWhen) { t.Plantlets, _ = d.whole(n, 1, most) }},
	{"stems", func(d *decoder, n *head.Node, t *TrimWhen) { t.Stems, _ = d.whole(n, 1, most) }},
	{"mass", func(d *decoder, n *head.Node, t *TrimWhen) { set(d, n, &t.Mass) }},
}

// trimWhenByPlant reads a tank's own habit: a mapping from plant to the sizes at which it is trimmed.
func (d *decoder) trimWhenByPlant(n *head.Node) map[string]TrimWhen {
	if n.Shape != head.Mapping {
		d.at(n, ruleWrongShape, "in tank.md, trim-when lists plants, but this is "+n.Describe(), "write it as in {heteranthera-zosterifolia: {stem-length: 24 cm}}")
		return nil
	}
	out := make(map[string]TrimWhen, len(n.Kids))
	for i := range n.Kids {
		kid := &n.Kids[i]
		if kid.Faulty {
			continue
		}
		if n.Before(i) {
			d.duplicate(kid)
			continue
		}
		var t TrimWhen
		readMapping(d, kid, trimWhenFields, &t)
		out[kid.Key] = t
	}
	return out
}

// private reads what is for the grower's eyes: any keys, each with text.
func (d *decoder) private(n *head.Node) Private {
	if n.Shape != head.Mapping {
		d.at(n, ruleWrongShape, "private must have keys of its own, but this is "+n.Describe(), "write it as in {note: …}")
		return Private{}
	}
	values := make(map[string]sealed, len(n.Kids))
	for i := range n.Kids {
		kid := &n.Kids[i]
		switch {
		case kid.Faulty:
		case n.Before(i):
			d.duplicate(kid)
		case kid.Shape == head.Nothing:
			d.at(kid, ruleNoValue, fmt.Sprintf("%q has no value", spelling.Clip(kid.Key)), "give a value, or delete the key")
		default:
			values[kid.Key] = seal(d.text(kid))
		}
	}
	return Private{values}
}

package prose

import (
	"errors"
	"strings"

	"github.com/yuin/goldmark/ast"
)

// figureForms tells for each kind of figure what its words name; those from need on may be left out.
var figureForms = map[string]struct {
	args []string
	need int
	form string
}{
	"growth":    {[]string{"plant", "tank"}, 1, "growth PLANT, or growth PLANT TANK"},
	"parameter": {[]string{"", "tank"}, 1, "parameter NAME, or parameter NAME TANK"},
	"water":     {nil, 0, "water, and nothing after it"},
	"keys":      {nil, 0, "keys, and nothing after it"},
}

// fence turns a fenced block into a figure if its info string begins with a figure's kind.
func (j *job) fence(c *ast.FencedCodeBlock) {
	if c.Info == nil {
		return
	}
	info := string(c.Info.Segment.Value(j.source))
	fields := strings.Fields(info)
	if len(fields) == 0 {
		return
	}
	kind, args := fields[0], fields[1:]
	form, ok := figureForms[kind]
	if !ok {
		return
	}
	d := &drawing{}
	d.SetPos(c.Pos())
	where := at(c.Info.Segment.Start)
	if len(args) < form.need || len(args) > len(form.args) {
		j.errorf(where, RuleFigureForm, "write "+form.form, "can't draw a figure from %q", info)
		d.info = info
	} else if !j.named(form.args, args, where) || !j.draw(d, kind, args, where) {
		d.info = info
	}
	for i := range c.Lines().Len() {
		line := c.Lines().At(i)
		if strings.TrimSpace(string(line.Value(j.source))) != "" {
			j.warnf(at(line.Start), RuleFigureText, "move it before or after the block", "text inside a figure block is not shown")
			break
		}
	}
	replace(c, d, false)
}

// named looks up the plant and the tank of a figure, if there is somebody to ask.
func (j *job) named(schemes, args []string, where spot) bool {
	if j.place.Links == nil {
		return true
	}
	all := true
	for i, name := range args {
		if schemes[i] == "" {
			continue
		}
		if _, ok := j.place.Links.Href(schemes[i], name); !ok {
			hint := ""
			if n := nearest(j.place.Links, schemes[i], name); n != "" {
				hint = "did you mean " + n + "?"
			}
			j.errorf(where, RuleFigureName, hint, "there is no %s %q", schemes[i], name)
			all = false
		}
	}
	return all
}

func (j *job) draw(d *drawing, kind string, args []string, where spot) bool {
	if !j.draws || j.place.Figures == nil {
		return true
	}
	drawn, err := j.place.Figures.Figure(kind, args)
	if err != nil {
		hint := ""
		var h interface{ Hint() string }
		if errors.As(err, &h) {
			hint = h.Hint()
		}
		j.errorf(where, RuleFigure, hint, "%v", err)
		return false
	}
	d.html = drawn
	return true
}

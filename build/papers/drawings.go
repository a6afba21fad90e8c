package papers

import (
	"html/template"

	"slipleaf/build/words"
)

// labelDrawing is the plant on its label.
func (w Papers) labelDrawing() template.HTML { return "" }

// feelDrawing is the firm part to feel for.
func (w Papers) feelDrawing() template.HTML { return "" }

// bedDrawing is how it is set, to scale.
func (w Papers) bedDrawing() template.HTML { return "" }

// signs are healthy melt beside rot, with the almanac's words.
func (w Papers) signs() (melt, rot Sign) {
	if c := w.s.Species.Care; c != nil {
		melt.Text, rot.Text = w.said(c.Normal.In(w.Lang)), w.said(c.Alarm.In(w.Lang))
	}
	return melt, rot
}

var _ = words.Escape

package sharing

import (
	"html/template"
	"strings"

	"slipleaf/build/chart"
	"slipleaf/build/ledger"
	"slipleaf/build/words"
)

// ElsewherePart is how a species does for others, as a plant's page shows it.
type ElsewherePart struct {
	Tally   template.HTML
	Summary string   // counts, always
	Share   string   // the share with its interval, or why there is none
	Doubt   string   // the bounds when too few were heard of
	Sooner  string   // how long it took
	Common  string   // what the lost had in common; "" where too few were lost
	Waters  []Waters // by the hardness of the water
	Note    string   // how the interval is made
}

// Waters is a row of the table by water.
type Waters struct {
	Water, Share                   string
	Sent, Established, Lost, Other int
}

// Elsewhere tells how a plant does for others; ok is false where none was ever sent.
func (k Kit) Elsewhere(id string) (p ElsewherePart, ok bool) {
	v := k.Locale
	e, ok := k.Facts.Outcomes(id)
	if !ok {
		return p, false
	}
	a := e.All
	p.Summary = v.Text("elsewhere.summary", "sent", a.Sent, "established", a.Established, "lost", a.Lost, "silent", a.NoResult())
	p.Tally = chart.Tally{Established: a.Established, Gone: a.Lost, Silent: a.NoResult()}.Draw()
	if a.Results() > 0 { // else the summary says it
		p.Share = words.ShareSentence(v, a)
	}
	p.Doubt = quietSentence(v, a)
	p.Sooner, p.Common = soonerSentence(v, e), commonSentence(v, e.Common)
	for _, f := range e.ByWater {
		p.Waters = append(p.Waters, Waters{v.Text("elsewhere.water-" + f.Water.String()), shareCell(v, f), f.Sent, f.Established, f.Lost, f.NoResult()})
	}
	p.Note = v.Text("elsewhere.note", "n", a.Settled.Results(), "heard", a.Heard, "sent", a.Sent, "days", ledger.SettleDays)
	if a.Effect > 1 {
		p.Note = words.Sentences(p.Note, v.Text("elsewhere.note-lots", "effect", v.N(a.Effect, 1)))
	}
	return p, true
}

// fewestDoubted results are needed for bounds: those of one or two say nothing (our choice).
const fewestDoubted = 3

// doubted reports whether too few have a result, and yet enough to say what the silent ones may change.
func doubted(f ledger.OutcomeCounts) bool { return f.Quiet && f.Settled.Results() >= fewestDoubted }

// quietSentence gives the bounds when too few have a result, and a guess where a loss was reported: without one it would be 100 %
// whatever was assumed; "" else.
func quietSentence(v words.Locale, f ledger.OutcomeCounts) string {
	if !doubted(f) {
		return ""
	}
	guess := ""
	if f.Settled.Lost > 0 {
		guess = v.Text("elsewhere.quiet-guess", "guess", words.Percent(v, f.Guess))
	}
	return v.Text("elsewhere.quiet", "n", f.Settled.Results(), "sent", f.Settled.Sent, "least", words.Percent(v, f.Least), "most", words.Percent(v, f.Most), "guess", guess)
}

// soonerSentence says by when half had established, or how many had by the last day on which one did.
func soonerSentence(v words.Locale, e ledger.Outcomes) string {
	if e.All.Say == ledger.TooFew {
		return ""
	}
	if e.MedianKnown {
		at := e.CumulativeIncidence.At(e.Median)
		return v.Text("elsewhere.half-by", "days", v.N(float64(e.Median), 0), "low", words.Percent(v, at.Low), "high", words.Percent(v, at.High))
	}
	for i := len(e.CumulativeIncidence.Steps) - 1; i >= 0; i-- {
		if s := e.CumulativeIncidence.Steps[i]; s.Events > 0 {
			return v.Text("elsewhere.by-day", "days", v.N(float64(s.Days), 0), "share", words.Percent(v, s.Share.Value), "low", words.Percent(v, s.Share.Low), "high", words.Percent(v, s.Share.High))
		}
	}
	return ""
}

// commonSentence says what the lost had in common and how sure that is, and the reasons that were given.
func commonSentence(v words.Locale, c ledger.Common) string {
	causes := causeWords(v, c.Causes)
	reasons := ""
	if len(causes) > 0 {
		reasons = v.Text("common.causes", "causes", strings.Join(causes, ", "))
	}
	if c.Looked == 0 {
		return reasons
	}
	if c.Circumstance == "" {
		return words.Sentences(v.Text("common.nothing", "n", c.Looked), reasons)
	}
	where := v.Text("common.in-"+c.Circumstance, "soft", v.N(ledger.MediumFrom, 0), "hard", v.N(ledger.HardFrom, 0), "cool", words.Q(v, ledger.CoolBelow), "warm", words.Q(v, ledger.WarmAbove),
		"small", words.Q(v, ledger.SmallTank), "days", ledger.SlowDays)
	key := "common.chance"
	if c.More.Low > 0 {
		key = "common.clear"
	}
	return words.Sentences(v.Text("common.where", "where", where, "lost", c.With.Yes, "of", c.With.Of, "others", c.Without.Yes, "rest", c.Without.Of,
		"more", v.N(100*c.More.Value, 0), "low", v.N(100*c.More.Low, 0), "high", v.N(100*c.More.High, 0)), v.Text(key, "n", c.Looked), reasons)
}

// causeWords are the reasons of losses that the words have a name for, in the page's language, with how often each was given.
// All others are one: what a recipient wrote freely is not for everybody to read, and may name somebody.
func causeWords(v words.Locale, causes []ledger.Cause) (out []string) {
	others := 0
	for _, x := range causes {
		if key := "common.cause-" + x.Name; v.Has(key) {
			out = append(out, v.Text("common.cause", "what", v.Text(key), "n", x.N))
		} else {
			others += x.N
		}
	}
	if others > 0 {
		out = append(out, v.Text("common.cause", "what", v.Text("common.cause-other"), "n", others))
	}
	return out
}

func shareCell(v words.Locale, f ledger.OutcomeCounts) string {
	switch f.Say {
	case ledger.TooFew:
		return v.Text("elsewhere.cell-few")
	case ledger.CountsAndInterval:
		return v.Text("elsewhere.cell-interval", "low", words.Percent(v, f.Share.Low), "high", words.Percent(v, f.Share.High))
	}
	return v.Text("elsewhere.cell-percent", "share", words.Percent(v, f.Share.Value), "low", words.Percent(v, f.Share.Low), "high", words.Percent(v, f.Share.High))
}

// Line says in a sentence how a plant does for others.
func (k Kit) Line(id string) string {
	v := k.Locale
	e, _ := k.Facts.Outcomes(id)
	if f := e.All; doubted(f) {
		return v.Text("elsewhere.line-quiet", "yes", f.Settled.Established, "n", f.Settled.Results(), "silent", f.Settled.Silent(), "least", words.Percent(v, f.Least), "most", words.Percent(v, f.Most))
	}
	return words.ShareSentence(v, e.All)
}

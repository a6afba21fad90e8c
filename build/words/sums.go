package words

import (
	"errors"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Sums is the section of the words that holds what sums say, in languages other than English.
const Sums = "sums."

// SumText is a text of the sums in the page's language. The sums speak English; another language says them by its words, and in English
// what it lacks.
func SumText(v Locale, key, english string, pairs ...any) string {
	if key = Sums + key; v.Has(key) {
		return v.Text(key, pairs...)
	}
	return Bind(english)
}

func Cautions(v Locale, all ...reckon.Caution) []string {
	var out []string
	for _, c := range all {
		out = append(out, SumText(v, "caution-"+c.Key, c.Text))
	}
	return out
}

func SourceOf(v Locale, w reckon.Working) string {
	return SumText(v, "source-"+w.Equation.Key, w.Equation.Source)
}

// WorkingLines is a working, one thing a line: its rule, its inputs, its remarks.
func WorkingLines(v Locale, w reckon.Working) []string {
	e := w.Equation
	out := []string{SumText(v, "equation-"+e.Key, e.Words) + ": " + SumText(v, "formula-"+e.Key, e.Formula)}
	for _, i := range w.Inputs {
		line := inputName(v, i.Name) + " = " + v.Figure(Bind(typographic.Replace(reckon.Figure(i.Value)+" "+quantity.Sign(i.Unit))))
		if i.Assumed != "" {
			line += " (" + SumText(v, "assumed", "assumed") + ": " + SumText(v, "assumed-"+i.Name, i.Assumed) + ")"
		}
		out = append(out, strings.TrimSpace(line))
	}
	for _, n := range w.Notes {
		out = append(out, SumText(v, "note-"+n.Key, n.Text, "n", v.Figure(n.Figure)))
	}
	return out
}

// typographic turns units as growers type them into units as they are printed.
var typographic = strings.NewReplacer("umol", "µmol", "m2", "m²", " %", "%")

func inputName(v Locale, name string) string {
	return SumText(v, "input-"+name, strings.ReplaceAll(name, "-", " "))
}

// Refusal says why a sum gives no figure. The reason is left out where a language has none for it.
func Refusal(v Locale, err error) string {
	var e *reckon.InputError
	if !errors.As(err, &e) || !v.Has(Sums+"refused-"+string(e.Kind)) {
		return err.Error()
	}
	figure := func(s string) string { return v.Figure(typographic.Replace(strings.ReplaceAll(s, " to ", "–"))) }
	said := v.Text(Sums+"refused-"+string(e.Kind), "name", inputName(v, e.Name), "value", figure(e.Value), "range", figure(e.Range))
	if why := Sums + "why-" + string(e.Kind) + "-" + e.Name; v.Has(why) {
		said += " " + v.Text(why)
	}
	return said
}

package page

import (
	"errors"
	"strings"

	"slipleaf/build/reckon"
	"slipleaf/build/words"
)

// sums is the section of the words that holds what sums say, in languages other than English.
const sums = "sums."

// sumText is a text of the sums in the page's language. The sums speak English; another language says them by its words, and in English
// what it lacks.
func sumText(v words.Locale, key, english string, pairs ...any) string {
	if key = sums + key; v.Has(key) {
		return v.Text(key, pairs...)
	}
	return english
}

func cautions(v words.Locale, all ...reckon.Caution) []string {
	var out []string
	for _, c := range all {
		out = append(out, sumText(v, "caution-"+string(c), c.Text()))
	}
	return out
}

func sourceOf(v words.Locale, w reckon.Working) string {
	return sumText(v, "source-"+w.Equation.Key, w.Equation.Source)
}

// workingLines is a working, one thing a line: its rule, its inputs, its remarks.
func workingLines(v words.Locale, w reckon.Working) []string {
	e := w.Equation
	out := []string{sumText(v, "equation-"+e.Key, e.Words) + ": " + sumText(v, "formula-"+e.Key, e.Formula)}
	for _, i := range w.Inputs {
		line := inputName(v, i.Name) + " = " + v.Figure(typographic.Replace(reckon.Figure(i.Value)+" "+i.Unit))
		if i.Assumed != "" {
			line += " (" + sumText(v, "assumed", "assumed") + ": " + sumText(v, "assumed-"+i.Name, i.Assumed) + ")"
		}
		out = append(out, strings.TrimSpace(line))
	}
	for _, n := range w.Notes {
		out = append(out, sumText(v, "note-"+n.Key, n.Text, "n", v.Figure(n.Figure)))
	}
	return out
}

// typographic turns units as growers type them into units as they are printed.
var typographic = strings.NewReplacer("umol", "µmol", "m2", "m²", " %", "%")

func inputName(v words.Locale, name string) string {
	return sumText(v, "input-"+name, strings.ReplaceAll(name, "-", " "))
}

// refusal says why a sum gives no figure. The reason is left out where a language has none for it.
func refusal(v words.Locale, err error) string {
	var e *reckon.InputError
	if !errors.As(err, &e) || !v.Has(sums+"refused-"+string(e.Kind)) {
		return err.Error()
	}
	figure := func(s string) string { return v.Figure(typographic.Replace(strings.ReplaceAll(s, " to ", "–"))) }
	said := v.Text(sums+"refused-"+string(e.Kind), "name", inputName(v, e.Name), "value", figure(e.Value), "range", figure(e.Range))
	if why := sums + "why-" + string(e.Kind) + "-" + e.Name; v.Has(why) {
		said += " " + v.Text(why)
	}
	return said
}

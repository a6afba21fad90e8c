package papers

import (
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// Outlook is what the sheet says of one plant of a parcel, as plain text, for who decides whether to send it.
type Outlook struct {
	Summary  string       `json:"verdict"`  // good-match | one-change | poor-match | cannot-say | forbidden
	Sentence string       `json:"sentence"` // the verdict, and how it did for others in such water
	Law      []OutlookLaw `json:"law"`
	Post     []string     `json:"post"` // the rules of the border that a parcel goes over
	Warnings []string     `json:"warnings"`
}

// OutlookLaw is what a list says of the plant, or what was not read of the law where they live.
type OutlookLaw struct {
	Text   string `json:"text"`
	Source string `json:"source,omitempty"`
}

// Outlooks are those of each plant of the parcel, in its order.
func (w Papers) Outlooks() []Outlook {
	var out []Outlook
	for _, one := range w.plants() {
		o := Outlook{Summary: string(one.s.Summary), Sentence: words.Plain(one.verdict()), Law: []OutlookLaw{}, Post: []string{}, Warnings: one.warnings()}
		if one.s.Forbidden {
			o.Summary = "forbidden"
		}
		if p := one.proof(); p != "" {
			o.Sentence += " " + p
		}
		for _, l := range one.named() {
			o.Law = append(o.Law, OutlookLaw{words.Plain(l.Text), l.Source})
		}
		for _, rule := range one.s.Borders {
			if one.s.Parcel.How != "by-hand" {
				o.Post = append(o.Post, rule.In(w.Lang))
			}
		}
		for _, c := range one.s.Coverage {
			if one.s.Parcel.Region != "" && c.Held != "whole" {
				o.Law = append(o.Law, OutlookLaw{words.Plain(words.Coverage(w.Locale, c, c.Age(w.s.Lists))), c.Address})
			}
		}
		out = append(out, o)
	}
	return out
}

// warnings are what their tank or the plant itself asks to be careful with.
func (w Papers) warnings() []string {
	out := []string{}
	for _, t := range w.s.Tasks {
		if t == sheet.PestFork || t == sheet.CopperTub {
			out = append(out, words.Plain(w.task(t)))
		}
	}
	if a := w.animals(); a != "" && w.s.Planted() {
		out = append(out, words.Plain(a))
	}
	if key := w.poison(); key != "" {
		out = append(out, words.Plain(w.HTML("sheet.poison"+key, "plant", w.called())))
	}
	return out
}

package papers

import (
	"html/template"
	"net/url"
	"slices"
	"strings"

	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// TellLink is an answer to give with a tap.
type TellLink struct{ Text, Href string }

// tells are the three answers at the foot.
func (w Papers) tells() []TellLink {
	var out []TellLink
	for _, t := range []struct{ key, outcome string }{{"lives", "growing"}, {"trouble", "melting"}, {"died", "lost"}} {
		if href := w.tellHref(t.outcome); href != "" {
			out = append(out, TellLink{w.Text("sheet.tell-" + t.key), href})
		}
	}
	return out
}

// tellHref writes a message with the code and the outcome in the words that report takes, and what else to tell; "" when there
// is no address.
func (w Papers) tellHref(outcome string) string {
	return w.tellShort(outcome, w.Text("sheet.mail-body", "outcome", outcome, "code", w.s.Parcel.Code))
}

// tellShort is tellHref with a body of its own.
func (w Papers) tellShort(outcome, body string) string {
	p := w.s.Parcel
	return w.kit.Report(p.Lot, w.s.Species.Taxon, w.Text("sheet.mail-subject", "code", p.Code, "outcome", outcome), body)
}

// tellAddr is the address for answers in plain text: of mail, or of a page.
func (w Papers) tellAddr() string {
	u, err := url.Parse(w.tellHref("arrived"))
	if err != nil || u.Scheme == "" {
		return ""
	}
	if u.Scheme == "mailto" {
		return u.Opaque
	}
	return u.Host + u.Path
}

// byHand is how to answer without a tap, for paper.
func (w Papers) byHand() template.HTML {
	if w.tellAddr() == "" {
		return w.HTML("sheet.tell-none")
	}
	var lots []string
	for _, one := range w.plants() {
		lots = append(lots, one.s.Parcel.Lot)
	}
	return w.HTML("sheet.by-hand", "lot", strings.Join(lots, " / "), "addr", w.tellAddr())
}

// shortAddress is where sheets lie, without the scheme, for people who type.
func (w Papers) shortAddress() string {
	a := w.kit.Absolute("/sheets/")
	if _, rest, ok := strings.Cut(a, "://"); ok {
		return rest
	}
	return a
}

// grouped cuts a code into groups of five, to be read out.
func grouped(code string) []string {
	var out []string
	for five := range slices.Chunk([]byte(code), 5) {
		out = append(out, string(five))
	}
	return out
}

// links are the things to print, a strip where there are check days, and the figures.
func (w Papers) links(strip bool) []theme.Link {
	to := func(key, at string) theme.Link {
		return theme.Link{Text: w.Text("sheet." + key), Href: w.kit.Href(w.addr, w.addr+at)}
	}
	out := []theme.Link{to("print-label", "label/")}
	if strip {
		out = append([]theme.Link{to("print-strip", "label/#strip")}, out...)
	}
	for _, one := range w.rest {
		label := to("print-label", "label/"+one.s.Parcel.Lot+"/")
		label.Text += " " + one.s.Parcel.Lot
		out = append(out, label)
	}
	return append(out, to("print-card", "label/#card"), to("machine", "sheet.json"))
}

// fileNotices are the cautions for sheet.json, each with its kind and source.
func (w Papers) fileNotices() []sheet.FileNotice {
	const practice = "common practice"
	s := w.s
	var out []sheet.FileNotice
	for _, l := range w.named() {
		out = append(out, sheet.FileNotice{Kind: "law", Text: words.Plain(l.Text), Source: l.Source})
	}
	add := func(kind, source string, text template.HTML) {
		out = append(out, sheet.FileNotice{Kind: kind, Text: words.Plain(text), Source: source})
	}
	for _, line := range w.lawFold().Body {
		add("law", "", line)
	}
	add("escape", "Anderson, Dunn, Rosewarne and Stebbing 2015, Biological Invasions 17:2287–2297 (hot water); else "+practice, w.never())
	if key := w.poison(); key != "" {
		add("poison", strings.TrimSpace(s.Species.Poison.Source.Text+" "+s.Species.Poison.Source.Address), w.HTML("sheet.poison"+key, "plant", w.called()))
	}
	add("dip", practice, w.HTML("sheet.dip-caution"))
	if s.CO2.Injected() {
		add("co2", "Hargreaves & Brunson 1996, SRAC 468; ceiling: "+practice, w.HTML("sheet.co2-caution"))
	}
	add("electricity", "IEC 60364-4-41, 411.3.3; UL 943 (from memory); drip loop: "+practice, w.HTML("sheet.electricity-"+string(s.Breaker)))
	add("children", practice, w.HTML("sheet.children"))
	return out
}

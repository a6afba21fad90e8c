package chart

import "html/template"

// Table is a chart's figures as finished words, for the page to show one disclosure away.
type Table struct {
	Head []Column
	Rows [][]string // each as long as Head
}

// Column heads a column; Number asks the page to set it flush right.
type Column struct {
	Name   string
	Number bool
}

// Picture is one chart in two layouts, of which a page shows one by its style sheet, and its figures as a table.
type Picture struct {
	Broad  template.HTML // 576 units wide
	Narrow template.HTML // 328 units wide
	Table  Table
}

// Caption is what every chart must say of itself: an ID that no other chart on the page has, and a title for those who do not
// see the picture. The finding is the page's caption beside it, which is read aloud once.
type Caption struct {
	ID    string
	Title string
}

// Label is a text beside a thing. Short is used where Long does not fit; where neither does, the label is left out,
// and the table still has the figure. An empty label is not drawn.
type Label struct{ Long, Short string }

// forms are the texts to try, in order.
func (l Label) forms() []string {
	var out []string
	for _, s := range []string{l.Long, l.Short} {
		if s = oneLine(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}

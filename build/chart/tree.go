package chart

// Tree is the way of a plant from hand to hand. Nodes come in any order; children are drawn in the order given. The
// page sets a nested list beside it that says the same.
type Tree struct {
	Caption
	Nodes []Node
	Heads TreeHeads
}

// Node is a giving. Parent is the Key of the node that it came from, empty for a first one.
type Node struct {
	Key, Parent string
	Name        string // "3 cuttings, May 2026"
	Outcome     Outcome
	State       string // the outcome in a word, for the table
}

// TreeHeads head the columns of the table.
type TreeHeads struct{ Generation, Name, From, State string }

// Draw makes the chart in both layouts, or a *SeriesError: ErrEmpty (no node or no title), ErrID, ErrTree (a key twice, a parent that is
// missing, a circle).
func (t Tree) Draw() (Picture, error) {
	if err := t.Caption.check(); err != nil {
		return Picture{}, err
	}
	if len(t.Nodes) == 0 {
		return Picture{}, wrong("nodes", -1, ErrEmpty)
	}
	rows, err := t.rows()
	if err != nil {
		return Picture{}, err
	}
	return Picture{t.draw(broad(), rows).svg(), t.draw(narrow(), rows).svg(), t.table(rows)}, nil
}

// branch is a node in its place: row by row from the top, with its generation and the row of its parent (-1: none).
type branch struct {
	Node
	depth, parent int
}

// rows orders the nodes so that each stands under its parent, before the parent's next child.
func (t Tree) rows() ([]branch, error) {
	known := make(map[string]bool, len(t.Nodes))
	children := make(map[string][]Node)
	for i, o := range t.Nodes {
		if o.Key == "" || known[o.Key] {
			return nil, wrong("nodes", i, ErrTree)
		}
		known[o.Key] = true
		children[o.Parent] = append(children[o.Parent], o)
	}
	for i, o := range t.Nodes {
		if o.Parent != "" && !known[o.Parent] {
			return nil, wrong("nodes", i, ErrTree)
		}
	}
	var rows []branch
	var walk func(key string, depth, parent int)
	walk = func(key string, depth, parent int) {
		for _, o := range children[key] {
			rows = append(rows, branch{o, depth, parent})
			walk(o.Key, depth+1, len(rows)-1)
		}
	}
	walk("", 0, -1)
	if len(rows) < len(t.Nodes) { // a circle hangs on no first node
		return nil, wrong("nodes", -1, ErrTree)
	}
	return rows, nil
}

// Table lists the nodes as they are drawn, with generation and origin; nil rows where Draw would fail.
func (t Tree) Table() Table {
	rows, err := t.rows()
	if err != nil {
		return t.table(nil)
	}
	return t.table(rows)
}

func (t Tree) table(rows []branch) Table {
	out := Table{Head: []Column{{t.Heads.Generation, true}, {t.Heads.Name, false}, {t.Heads.From, false}, {t.Heads.State, false}}}
	for _, b := range rows {
		from := ""
		if b.parent >= 0 {
			from = rows[b.parent].Name
		}
		out.Rows = append(out.Rows, []string{Words{}.Number(float64(b.depth+1), 0), b.Name, from, b.State})
	}
	return out
}

// draw sets every node on a row of its own, further right by generation, so that no edge crosses a text.
func (t Tree) draw(l layout, rows []branch) *canvas {
	const step = 26.0
	deepest := 0
	for _, b := range rows {
		deepest = max(deepest, b.depth)
	}
	indent := l.width / 12
	if deepest > 0 {
		indent = min(indent, l.width/2/float64(deepest))
	}
	c := newCanvas(l, t.Caption, step*float64(len(rows)))
	at := func(i int) (x, y float64) { return 10 + indent*float64(rows[i].depth), step * (float64(i) + 0.5) }
	for i, b := range rows {
		if b.parent >= 0 {
			x0, y0 := at(b.parent)
			x, y := at(i)
			c.path("edge", "M"+n(x0)+" "+n(y0+9)+"V"+n(y)+"H"+n(max(x-9, x0)))
		}
	}
	for i, b := range rows {
		x, y := at(i)
		c.outcome(b.Outcome, x, y)
		c.put(text{x: x + 14, y: y + 5, class: "lab", s: fitTo(b.Name, l.width-x-15)})
	}
	return c
}

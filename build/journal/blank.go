package journal

import (
	"path"
	"slices"
	"strings"

	"slipleaf/build/head"
)

// saysHowMuch are the keys by which an item of an entry's list says something: while they are written and all are blank, the
// item is not there, whatever was filled in beside them beforehand.
var saysHowMuch = map[string][]string{
	"counts":       {"stems", "plantlets", "leaves", "cover", "mass", "length"},
	"plantings":    {"stems", "plantlets", "leaves", "cover", "mass", "length"},
	"trims":        {"cuttings", "removed", "replanted"},
	"losses":       {"stems", "plantlets", "leaves", "cover", "mass", "length", "count"},
	"doses":        {"mass"},
	"water-change": {"share"},
	"lots":         {"count", "expected"},
	"photos":       {"file"},
}

// leftBlank reports whether a part of an entry was offered to be filled in and was not.
func leftBlank(part string, n *head.Node) bool {
	if n.Shape != head.Mapping {
		return n.Shape == head.Nothing
	}
	offered := false
	for _, key := range saysHowMuch[part] {
		if kid := n.Child(key); kid != nil {
			if kid.Shape != head.Nothing {
				return false
			}
			offered = true
		}
	}
	return offered
}

// withoutBlanks drops the items of an entry's lists that were left blank, so that the numbers of the others are those of the
// lists that were read.
func withoutBlanks(root *head.Node) {
	for i := range root.Kids {
		list := &root.Kids[i]
		if list.Shape == head.Sequence && saysHowMuch[list.Key] != nil {
			list.Kids = slices.DeleteFunc(list.Kids, func(n head.Node) bool { return leftBlank(list.Key, &n) })
		}
	}
}

// isEntry reports whether a file of a journal is a diary entry.
func isEntry(file string) bool {
	return strings.HasPrefix(file, "tanks/") && path.Base(file) != "tank.md"
}

// untouched reports whether an entry offers blanks of which none was filled in, and says nothing else.
func (d *decoder) untouched(e *Entry) bool {
	return d.blank && d.out.Errors() == 0 && e.Title == "" && e.Parameters == (Parameters{}) && e.WaterChange == (WaterChange{}) && e.Private.Empty() &&
		len(e.Counts)+len(e.Plantings)+len(e.Trims)+len(e.Losses)+len(e.Doses)+len(e.Lots)+len(e.StillThere)+len(e.Photos) == 0 && len(strings.TrimSpace(string(e.Body))) == 0
}

// all takes "all" for the number of a loss.
func (d *decoder) all(n *head.Node, to any) bool {
	loss, ok := to.(*Loss)
	if !ok || n.Shape != head.Scalar || !strings.EqualFold(strings.TrimSpace(n.Text), "all") {
		return false
	}
	d.takeAs(n, "all")
	loss.All = n.Key
	return true
}

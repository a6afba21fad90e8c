package desk

import (
	"io"
	"net/url"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/compose"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// Begin is the page that begins a journal where there is none.
type Begin struct {
	Head
	Folder string // where it will be
	Faults []string
	Typed  map[string]string
	US     bool
	German bool
}

// beginFields are what the page asks for.
var beginFields = []string{"title", "grower", "language", "region", "units", "tank", "length", "width", "height"}

// NewBegin is the page with what was typed; nil for nothing.
func NewBegin(v *words.Words, token, folder string, typed url.Values, faults []string) Begin {
	l := words.Locale{Words: v}
	b := Begin{Head: Head{Lang: v.Lang, Direction: l.Text("page.direction"), Title: l.Text("desk.begin"), Form: token}, Folder: folder, Faults: faults, Typed: map[string]string{}}
	for _, key := range beginFields {
		b.Typed[key] = typed.Get(key)
	}
	b.US, b.German = typed.Get("units") == "us", typed.Get("language") == "de" || typed == nil && strings.HasPrefix(v.Lang, "de")
	return b
}

// Render writes the page.
func (b Begin) Render(to io.Writer, v *words.Words) error {
	t, err := parse(words.Locale{Words: v})
	if err != nil {
		return err
	}
	return t.ExecuteTemplate(to, "begin.html", b)
}

// Policy is what the desk's pages may load and where their forms go.
const Policy = policy

// Files is the journal that a filled page begins: its own file and its first tank, whose id is returned.
func (b Begin) Files(on quantity.Date) (files []change.File, tank string) {
	unit := "cm"
	if b.US {
		unit = "in"
	}
	var j, t strings.Builder
	for _, key := range []string{"title", "grower", "language", "region", "units"} {
		if v := compose.Line(b.Typed[key]); v != "" {
			j.WriteString(key + ": " + compose.Quoted(v) + "\n")
		}
	}
	t.WriteString("---\nname: " + compose.Quoted(compose.Line(b.Typed["tank"])) + "\nbegan: " + on.String() + "\n")
	var inside []string
	for _, key := range []string{"length", "width", "height"} {
		if v := withUnit(b.Typed[key], unit); v != "" {
			inside = append(inside, key+": "+compose.Quoted(compose.Line(v)))
		}
	}
	if len(inside) > 0 {
		t.WriteString("inside: {" + strings.Join(inside, ", ") + "}\n")
	}
	t.WriteString("---\n")
	tank = fileName(b.Typed["tank"])
	return []change.File{{Path: "journal.yaml", After: []byte(j.String())}, {Path: "tanks/" + tank + "/tank.md", After: []byte(t.String())}}, tank
}

// fileName makes a name of the format out of words.
func fileName(s string) string {
	s = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", " ", "-").Replace(strings.ToLower(compose.Line(s)))
	s = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return -1
	}, s)
	if s = strings.Trim(s, "-"); s == "" || len(s) > 40 {
		return "tank"
	}
	return s
}

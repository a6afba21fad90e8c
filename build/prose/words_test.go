package prose

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestPunctuation(t *testing.T) {
	for _, c := range []struct{ name, language, body, want string }{
		{"British", "en-GB", `"Wait," she said, 'until it roots.'`, "“Wait,” she said, ‘until it roots.’"},
		{"American", "en-US", `"Wait," she said.`, "“Wait,” she said."},
		{"no language is English", "", `"a"`, "“a”"},
		{"German", "de", `"Warte", sagte sie, 'bis es wurzelt'.`, "„Warte“, sagte sie, ‚bis es wurzelt‘."},
		{"Austrian, with an underscore", "de_AT", `"Warte"`, "„Warte“"},
		{"Dutch", "nl", `"Wacht" en 'even'`, "“Wacht” en ‘even’"},
		{"another language keeps its own", "xx", `"a" 'b' -- c...`, "&quot;a&quot; 'b' – c…"},
		{"apostrophes", "en", `don't, the Smiths' tank, 'tis, the '90s`, "don’t, the Smiths’ tank, ’tis, the ’90s"},
		{"a quotation that begins like an abbreviation", "en", `'tank' and 'light' and 'em'`, "‘tank’ and ‘light’ and ‘em’"},
		{"a quotation over two lines", "en", "'two\nlines'", "‘two\nlines’"},
		{"a quotation within a quotation", "en", `"she said 'wait'"`, "“she said ‘wait’”"},
		{"a quotation in brackets", "en", `("a")`, "(“a”)"},
		{"a quotation of emphasis", "en", `"*a*" b`, "“<em>a</em>” b"},
		{"a quotation that goes on in the next paragraph", "en", `"a`, "“a"},
		{"inches and feet", "en", `a 20" by 10" tank, 3' long`, "a 20″ by 10″ tank, 3′ long"},
		{"a figure at the end of a quotation", "en", `"pH 7"`, "“pH 7”"},
		{"the next block begins afresh", "en", "\"a\n\n5\" b", "“a</p>\n<p>5″ b"},
		{"dashes and dots", "en", `a -- b --- c... d-e . f`, "a – b — c… d-e . f"},
		{"longer runs stay", "en", `a ---- b ....`, "a ---- b ...."},
		{"a back slash keeps a mark", "en", `\"a\" \--- \...`, `&quot;a&quot; --- ...`},
		{"code keeps its marks", "en", "`\"a\" -- 'b'...`", `<code>&quot;a&quot; -- 'b'...</code>`},
		{"an address keeps its marks", "en", "[a](b--c...d)", `<a href="b--c...d">a</a>`},
		{"a mark at the very end", "en", `a "`, `a &quot;`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := string(render(t, Options{Language: c.language}, c.body, Place{}).HTML)
			if want := "<p>" + c.want + "</p>\n"; got != want {
				t.Errorf("got  %q\nwant %q", got, want)
			}
		})
	}
}

func TestHeadings(t *testing.T) {
	const body = "# Größe & Wärme\n\n## Größe & Wärme\n\n# größe-wärme-2\n\n> ###### Don't *stop* `x_y`\n\n# 水草\n\n# !?\n\nUnder\n=====\n"
	want := []heading{{2, "größe-wärme"}, {3, "größe-wärme-2"}, {2, "größe-wärme-2-2"}, {6, "dont-stop-x-y"}, {2, "水草"}, {2, "section"}, {2, "under"}}
	if diff := cmp.Diff(want, headings(render(t, Options{}, body, Place{}))); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// heading is the level and the id of one.
type heading struct {
	Level int
	ID    string
}

var opening = regexp.MustCompile(`<h([1-6]) id="([^"]*)">`)

// headings are those of a text, in its order.
func headings(d Document) (out []heading) {
	for _, m := range opening.FindAllStringSubmatch(string(d.HTML), -1) {
		out = append(out, heading{int(m[1][0] - '0'), m[2]})
	}
	return out
}

func TestSlugTakesEitherFormOfUnicode(t *testing.T) {
	if composed, apart := slug("Größe"), slug("Gro\u0308ße"); composed != apart {
		t.Errorf("%q and %q", composed, apart)
	}
}

// Ids are unique, hold no space, and those above stay when text is added below.
func TestHeadingIDs(t *testing.T) {
	m := New(Options{})
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.StringMatching(`#{1,3} ([a-cA-C0-3 ß'é&-]{0,5})`)
		above, below := rapid.SliceOf(line).Draw(t, "above"), rapid.SliceOf(line).Draw(t, "below")
		ids := func(lines []string) []heading {
			return headings(m.Render([]byte(strings.Join(lines, "\n\n")), Place{}))
		}
		before, after := ids(above), ids(append(above, below...))
		if diff := cmp.Diff(before, after[:len(before)]); diff != "" && len(before) > 0 {
			t.Fatalf("text below changed a heading above:\n%s", diff)
		}
		seen := map[string]bool{}
		for _, h := range after {
			if seen[h.ID] || h.ID == "" || strings.ContainsFunc(h.ID, unicode.IsSpace) {
				t.Fatalf("id %q twice, empty or with a space", h.ID)
			}
			seen[h.ID] = true
		}
	})
}

func TestSummary(t *testing.T) {
	for _, c := range []struct {
		name, body, summary string
	}{
		{"the first paragraph, on one line", "# Title\n\nOne *two*\n  three `four`.\n\nfive", "One two three four."},
		{"marks are characters", `AT&amp;T \*x\* \&amp; &#8805;`, "AT&T *x* &amp; ≥"},
		{"a photo is no summary", "![alt text](a.jpg)\n\nHello.", "Hello."},
		{"a link is its words", "[a b](https://example.org/) <https://example.org/>", "a b https://example.org/"},
		{"an address is its characters", "<https://example.org/?a&b=\"> [<c@example.org>](d)", "https://example.org/?a&b=\" c@example.org"},
		{"a list may begin a text", "- item\n\n  more", "item"},
		{"a quotation may begin a text", "> quoted", "quoted"},
		{"code is no summary", "```go\nfunc main() {}\n```\n\n    x y z", ""},
		{"a table is no summary", "| a | b |\n|---|---|\n| c d | - |", ""},
		{"dashes are the printer's", "a -- b - 3 !", "a – b - 3 !"},
		{"nothing", " \n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if d := render(t, Options{}, c.body, Place{}); d.Summary != c.summary {
				t.Errorf("got %q, want %q", d.Summary, c.summary)
			}
		})
	}
}

func TestTableLabels(t *testing.T) {
	const table = "| a |\n|---|\n| b |\n\n"
	html := string(render(t, Options{TableLabel: "Tabelle"}, table+"# A \"b\"\n\n"+table, Place{}).HTML)
	for _, label := range []string{`aria-label="Tabelle 1"`, `aria-label="Tabelle 2: A “b”"`} {
		if !strings.Contains(html, label) {
			t.Errorf("no %s in %s", label, html)
		}
	}
}

func TestRowsThatLoseCells(t *testing.T) {
	for _, c := range []struct{ name, row, want string }{
		{"as many", "| 1 | 2 |", ""},
		{"fewer", "| 1", ""},
		{"an open end", "1 | 2", ""},
		{"an escaped stroke", `| 1 | 2 \| 3 |`, ""},
		{"one more", "| 1 | 2 | 3 |", "3:10 3 cells"},
		{"one more without strokes at the ends", "1 | 2 | 3", "3:8 3 cells"},
		{"two more, one empty", "|1|2||3|", "3:6 4 cells"},
		{"with a longer character before", "|ü|é|3|", "3:6 3 cells"},
	} {
		t.Run(c.name, func(t *testing.T) {
			faults := New(Options{}).Check([]byte("| a | b |\n|---|---|\n"+c.row+"\n"), nil)
			got := ""
			for _, f := range faults {
				var cells, head int
				if _, err := fmt.Sscanf(f.Message, "the row has %d cells but the table %d columns;", &cells, &head); err != nil || head != 2 || !f.Warning {
					t.Errorf("unexpected fault %v", f)
				}
				got += fmt.Sprintf("%d:%d %d cells", f.Line, f.Column, cells)
			}
			if got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// Typed back, the printer's marks give what was written: none is lost, added or moved.
func TestPunctuationCanBeTypedBack(t *testing.T) {
	back := strings.NewReplacer("“", `"`, "”", `"`, "″", `"`, "‘", "'", "’", "'", "′", "'", "–", "--", "—", "---", "…", "...")
	m := New(Options{})
	rapid.Check(t, func(t *rapid.T) {
		body := "x" + rapid.StringMatching(`[ab"'. 0-9é()-]{0,40}`).Draw(t, "body")
		d := m.Render([]byte(body), Place{})
		if got, want := back.Replace(d.Summary), strings.Join(strings.Fields(body), " "); got != want {
			t.Fatalf("%q printed %q, typed back %q", want, d.Summary, got)
		}
	})
}

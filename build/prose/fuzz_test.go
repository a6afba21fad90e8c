package prose

import (
	"os"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/net/html"
)

// elements and attributes are all that prose writes; the figure is the fake one's.
var (
	elements = strings.Fields("a blockquote br code div em figure h1 h2 h3 h4 h5 h6 hr img li ol p pre span strong " +
		"table tbody td th thead tr ul")
	attributes = strings.Fields("alt aria-label class height href id loading rel role scope sizes src srcset start tabindex title width")
	void       = strings.Fields("br hr img")
)

// unsafeIn looks for what must never be in the output of any text; "" if all is well.
func unsafeIn(s string) string {
	z := html.NewTokenizer(strings.NewReader(s))
	var open []string
	for {
		switch z.Next() {
		case html.ErrorToken:
			if len(open) > 0 {
				return "never closed: " + strings.Join(open, " ")
			}
			return ""
		case html.CommentToken, html.DoctypeToken:
			return "a comment or doctype"
		case html.StartTagToken, html.SelfClosingTagToken:
			t := z.Token()
			if fault := unsafeTag(t, open); fault != "" {
				return fault
			}
			if !slices.Contains(void, t.Data) {
				open = append(open, t.Data)
			}
		case html.EndTagToken:
			t := z.Token()
			if len(open) == 0 || open[len(open)-1] != t.Data {
				return "closed too early: " + t.Data
			}
			open = open[:len(open)-1]
		}
	}
}

func unsafeTag(t html.Token, open []string) string {
	if !slices.Contains(elements, t.Data) {
		return "element " + t.Data
	}
	if t.Data == "a" && slices.Contains(open, "a") {
		return "a link within a link"
	}
	for _, a := range t.Attr {
		if !slices.Contains(attributes, a.Key) {
			return "attribute " + a.Key
		}
		if (a.Key == "href" || a.Key == "src") && unsafeAddress(a.Val) {
			return "address " + a.Val
		}
	}
	return ""
}

// unsafeAddress reads an address as a browser does: without control characters and spaces around it,
// without tabs and line ends within, and with back slashes for slashes (WHATWG URL Standard, 4.4).
func unsafeAddress(address string) bool {
	address = strings.TrimFunc(address, func(r rune) bool { return r <= ' ' })
	address = strings.NewReplacer("\t", "", "\n", "", "\r", "", `\`, "/").Replace(address)
	before, _, _ := strings.Cut(address, "/")
	scheme, _, has := strings.Cut(before, ":")
	return strings.HasPrefix(address, "//") ||
		has && !strings.ContainsAny(scheme, "?#") && !slices.Contains(foreignSchemes, strings.ToLower(scheme))
}

func TestTheFuzzLawSeesWhatIsUnsafe(t *testing.T) {
	for _, s := range []string{
		"<script>x</script>", "<p onclick=x></p>", `<a href="javascript:x">a</a>`, "<a href=\" java\tscript:x\">a</a>",
		`<a href="/\example.org">a</a>`, "<p><em></p></em>", "<p>", "</p>", "<!-- -->", `<img src="data:,x">`, "<a><a></a></a>",
		`<p style="x"></p>`, "<svg></svg>",
	} {
		if unsafeIn(s) == "" {
			t.Errorf("%s passes", s)
		}
	}
	for _, s := range []string{`<p>a<br>b &lt;script&gt;</p>`, `<a href="../a:b">c</a>`, `<a href="?a:b">c</a>`, `<a href="mailto:x">c</a>`} {
		if fault := unsafeIn(s); fault != "" {
			t.Errorf("%s: %s", s, fault)
		}
	}
}

// Whatever the text, the HTML is balanced and holds nothing that runs or leads astray, each fault
// lies inside of the text, Check finds what Render finds, and rendering again gives the same.
func FuzzRender(f *testing.F) {
	for _, e := range commonmark(f) {
		f.Add(e.Markdown)
	}
	for _, name := range []string{"harvest.md", "mistakes.md"} {
		body, err := os.ReadFile("testdata/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(body))
	}
	for _, s := range []string{
		"[a](javascript:alert(1)) ![b](data:,x) <javascript:x>", "[a](&#x6a;avascript&colon;x)", "[![<http://a.b>](c.jpg)](plant:anubias-nana)",
		"# \"><script>\n\n[x](#\"><script>)", "| <b> | \"onclick=x |\n|:--|--:|\n| `|` | 2 | 3 |", "```\"><script>\n</code></pre>\n```",
		"~~~growth \"><script>\n~~~", "![\" onerror=x](trough-front.jpg \"' onload=x\")", "'a \"b 'c\" d'", "[a]: javascript:x\n\n[a]",
		"<tank:trough\" onclick=x>", "```parameter sali\xfa\x00", "```parameter <script>\n```", "\x00\xff<\x00script>", "a\r\nb\rc", "```html\n<script>alert(1)</script>\n```",
	} {
		f.Add(s)
	}
	m := New(Options{})
	f.Fuzz(func(t *testing.T, body string) {
		d := m.Render([]byte(body), here)
		s := string(d.HTML)
		if fault := unsafeIn(s); fault != "" {
			t.Fatalf("%s in %s", fault, s)
		}
		if !utf8.ValidString(s) || strings.Contains(strings.ToLower(s), "<script") || strings.ContainsRune(s, 0) {
			t.Fatalf("not fit to print: %q", s)
		}
		faultsInside(t, body, d.Faults)
		again := m.Render([]byte(body), here)
		if string(again.HTML) != s {
			t.Fatalf("another result the second time:\n%s\n%s", s, again.HTML)
		}
		found := slices.DeleteFunc(d.Faults, func(f Fault) bool { return f.Rule == RuleFigure })
		if checked := m.Check([]byte(body), garden{}); !slices.Equal(found, checked) {
			t.Fatalf("Render finds %v, Check %v", found, checked)
		}
	})
}

func faultsInside(t *testing.T, body string, faults []Fault) {
	t.Helper()
	lines := strings.Split(string(valid([]byte(body))), "\n")
	for _, f := range faults {
		if f.Line < 1 || f.Line > len(lines) || f.Column < 1 || f.Column > utf8.RuneCountInString(lines[f.Line-1])+1 {
			t.Fatalf("fault outside of the text: %v", f)
		}
		if f.Rule == "" || f.Message == "" {
			t.Fatalf("fault without words: %+v", f)
		}
	}
	if !slices.IsSortedFunc(faults, compareFaults) {
		t.Fatalf("faults not sorted: %v", faults)
	}
}

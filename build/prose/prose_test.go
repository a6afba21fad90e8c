package prose

import (
	"errors"
	"flag"
	"fmt"
	"html/template"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipleaf/build/spelling"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// garden is a journal with a few pages, photos and figures, two folders below the root of its site.
type garden struct{}

var pages = map[string]string{
	"plant:heteranthera-zosterifolia": "../../plants/heteranthera-zosterifolia/",
	"plant:anubias-nana":              "../../plants/anubias-nana/",
	"tank:trough":                     "../../tanks/trough/",
	"lot:HZ-0418":                     "../../offers/#HZ-0418",
	"entry:trough/2026-04-18":         "../../tanks/trough/2026-04-18/",
}

func (garden) Href(scheme, name string) (string, bool) {
	addr, ok := pages[scheme+":"+name]
	return addr, ok
}

func (garden) Near(scheme, name string) string {
	if scheme == "photo" {
		return spelling.Nearest(name, []string{"trough-front.jpg"})
	}
	var names []string
	for key := range pages {
		if s, n, _ := strings.Cut(key, ":"); s == scheme {
			names = append(names, n)
		}
	}
	slices.Sort(names)
	return spelling.Nearest(name, names)
}

func (garden) Photo(name string) (Photo, bool) {
	return Photo{Src: "photos/" + name, Srcset: "photos/small-" + name + " 480w", Sizes: "100vw", Width: 960, Height: 640},
		name == "trough-front.jpg"
}

func (garden) Figure(kind string, args []string) (template.HTML, error) {
	if kind == "parameter" && args[0] == "salinity" {
		return "", unknown{args[0]}
	}
	return template.HTML(fmt.Sprintf("<figure>%s %s</figure>", kind, template.HTMLEscapeString(strings.Join(args, " ")))), nil
}

type unknown struct{ name string }

func (u unknown) Error() string { return fmt.Sprintf("no parameter %q is measured", u.name) }
func (unknown) Hint() string    { return "write ph, gh, kh or the like" }

// rooted is a garden that also knows its pages by path.
type rooted struct{ garden }

func (rooted) Page(path string) (string, bool) { return "../.." + path, path == "/offers/" }

var here = Place{Links: garden{}, Figures: garden{}, Photos: garden{}}

func render(t testing.TB, o Options, body string, in Place) Document {
	t.Helper()
	return New(o).Render([]byte(body), in)
}

func complaints(faults []Fault) string {
	var b strings.Builder
	for _, f := range faults {
		fmt.Fprintf(&b, "%v [%s]", f, f.Rule)
		if f.Hint != "" {
			fmt.Fprintf(&b, " hint: %s", f.Hint)
		}
		b.WriteByte('\n')
	}
	return strings.TrimSpace(b.String())
}

func TestGolden(t *testing.T) {
	for _, name := range []string{"harvest", "mistakes"} {
		body, err := os.ReadFile("testdata/" + name + ".md")
		if err != nil {
			t.Fatal(err)
		}
		d := render(t, Options{Language: "en-GB"}, string(body), here)
		golden(t, "testdata/"+name+".html", string(d.HTML))
		golden(t, "testdata/"+name+".txt", complaints(d.Faults)+"\n")
		if name == "harvest" {
			wantDocument(t, d)
		}
	}
}

func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", file, diff)
	}
}

func wantDocument(t *testing.T, d Document) {
	t.Helper()
	want := Document{
		HTML:    d.HTML,
		Summary: "The stargrass touched the surface, so eighteen cuttings went into the “second” bucket.",
		Photos:  []string{"trough-front.jpg"},
	}
	if diff := cmp.Diff(want, d); diff != "" {
		t.Errorf("document (-want +got):\n%s", diff)
	}
}

func TestAddresses(t *testing.T) {
	refused := func(rule string) string { return `<span class="unlinked">x</span> ` + rule }
	for _, c := range []struct{ name, address, want string }{
		{"a web address", "https://example.org/a?b=c&d", `<a href="https://example.org/a?b=c&amp;d" rel="noreferrer">x</a>`},
		{"a web address in capitals", "HTTP://example.org/", `<a href="HTTP://example.org/" rel="noreferrer">x</a>`},
		{"a mail address", "mailto:grower@example.org", `<a href="mailto:grower@example.org">x</a>`},
		{"a telephone", "tel:+49-30-1234", `<a href="tel:+49-30-1234">x</a>`},
		{"a relative path", "../../offers/", `<a href="../../offers/">x</a>`},
		{"a query", "?light=low", `<a href="?light=low">x</a>`},
		{"a path with a colon in its second segment", "./a:b", `<a href="./a:b">x</a>`},
		{"a plant", "plant:anubias-nana", `<a href="../../plants/anubias-nana/">x</a>`},
		{"a plant's part", "plant:anubias-nana#growth", `<a href="../../plants/anubias-nana/#growth">x</a>`},
		{"an entry", "entry:trough/2026-04-18", `<a href="../../tanks/trough/2026-04-18/">x</a>`},
		{"a scheme in capitals", "Tank:trough", `<a href="../../tanks/trough/">x</a>`},
		{"a plant that is not there", "plant:anubias-nanna", refused(RuleLinkNowhere)},
		{"no name", "plant:", refused(RuleLinkForm)},
		{"script", "javascript:alert(1)", refused(RuleLinkScheme)},
		{"script in mixed case", "JaVaScRiPt:alert(1)", refused(RuleLinkScheme)},
		{"script behind a reference", "&#106;avascript:alert(1)", refused(RuleLinkScheme)},
		{"script with its colon behind a reference", "javascript&colon;alert(1)", refused(RuleLinkScheme)},
		{"script cut by a tab", "java&#9;script:alert(1)", refused(RuleLinkScheme)},
		{"script after a control character", "&#1;javascript:alert(1)", refused(RuleLinkScheme)},
		{"script behind back slashes", `\j\avascript\:alert(1)`, refused(RuleLinkScheme)},
		{"script after a space", "< javascript:alert(1)>", refused(RuleLinkScheme)},
		{"other script", "vbscript:x", refused(RuleLinkScheme)},
		{"data", "data:text/html,<b>", refused(RuleLinkScheme)},
		{"a file", "file:///etc/passwd", refused(RuleLinkScheme)},
		{"a share", "smb://host/share", refused(RuleLinkScheme)},
		{"another host without a scheme", "//example.org/", refused(RuleLinkScheme)},
		{"back slashes are no host", `/\\example.org`, refused(RuleLinkForm)},
		{"a path from the root", "/offers/", refused(RuleLinkForm)},
		{"no host", "https:", refused(RuleLinkForm)},
		{"an empty host", "https:///x", refused(RuleLinkForm)},
		{"one slash", "https:/x", refused(RuleLinkForm)},
		{"no address", "", refused(RuleLinkForm)},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := render(t, Options{}, "[x]("+c.address+")", here)
			got := strings.TrimSuffix(strings.TrimPrefix(string(d.HTML), "<p>"), "</p>\n")
			for _, f := range d.Faults {
				got += " " + f.Rule
			}
			if got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// liar returns what no Links should.
type liar struct{ addr string }

func (l liar) Href(string, string) (string, bool) { return l.addr, true }

func TestAddressesFromLinksPassTheSameList(t *testing.T) {
	for _, addr := range []string{"javascript:alert(1)", "//example.org/", "", "data:,x"} {
		d := render(t, Options{}, "[x](plant:y)", Place{Links: liar{addr}})
		if strings.Contains(string(d.HTML), "href") || len(d.Faults) != 1 {
			t.Errorf("%q passed: %s %v", addr, d.HTML, d.Faults)
		}
	}
	d := render(t, Options{}, "[x](plant:y)", Place{Links: liar{`a" onclick="b`}})
	if want := "<p><a href=\"a%22%20onclick=%22b\">x</a></p>\n"; string(d.HTML) != want {
		t.Errorf("got %s, want %s", d.HTML, want)
	}
}

func TestBodies(t *testing.T) {
	for _, c := range []struct {
		name, body, html, faults string
		in                       Place
	}{
		{"a page known by its path", "[x](/offers/)", `<p><a href="../../offers/">x</a></p>`, "", Place{Links: rooted{}}},
		{"a part of a page known by its path", "[x](/offers/?light=low#HZ-0418)", `<p><a href="../../offers/?light=low#HZ-0418">x</a></p>`, "", Place{Links: rooted{}}},
		{"a query beside pages known by path", "[x](?light=low)", `<p><a href="?light=low">x</a></p>`, "", Place{Links: rooted{}}},
		{"a page not known by its path", "a\n\n[x](/ofers/)", `<p>a</p>` + "\n" + `<p><span class="unlinked">x</span></p>`,
			`3:5: error: there is no page "/ofers/" [link-nowhere] hint: correct the name, or write the words without a link`, Place{Links: rooted{}}},
		{"links without anybody to ask are words", "[x](plant:y)", `<p><span class="unlinked">x</span></p>`, "", Place{}},
		{"a photo without anybody to ask is its description", "![a & b](c.jpg)", `<p>a &amp; b</p>`, "", Place{}},
		{"a figure without anybody to draw is nothing", "a\n```water\n```", `<p>a</p>`, "", Place{}},
		{"an address in angle brackets", "<plant:anubias-nana> <me@example.org>",
			`<p><a href="../../plants/anubias-nana/">anubias-nana</a> <a href="mailto:me@example.org">me@example.org</a></p>`, "", here},
		{"script in angle brackets", "<javascript:x>", `<p><span class="unlinked">javascript:x</span></p>`,
			`1:2: error: this link is not allowed: "javascript:x" [link-scheme] hint: write an http, https, mailto or tel address, a relative one, or plant:, tank:, lot: or entry: and a name`, here},
		{"no link within a link", "[a <https://example.org>](b)", `<p><a href="b">a https://example.org</a></p>`, "", here},
		{"a scheme nearly ours", "[x](plants:y)", `<p><span class="unlinked">x</span></p>`,
			`1:5: error: this link is not allowed: "plants:y" [link-scheme] hint: did you mean plant:y?`, here},
		{"an entry without a date", "[x](entry:pond)", `<p><span class="unlinked">x</span></p>`,
			`1:5: error: there is no entry "pond" [link-nowhere] hint: write entry:TANK/DATE, or entry:TANK/DATE-SLUG`, here},
		{"a reference link is blamed where it is used", "é [x][r]\n\n[r]: plant:no", `<p>é <span class="unlinked">x</span></p>`,
			`1:3: error: there is no plant "no" [link-nowhere] hint: correct the name, or write the words without a link`, here},
		{"a link inside a quotation and a list", "> - [x](lot:HZ-0481)", "<blockquote>\n<ul>\n<li><span class=\"unlinked\">x</span></li>\n</ul>\n</blockquote>",
			`1:9: error: there is no lot "HZ-0481" [link-nowhere] hint: did you mean lot:HZ-0418?`, here},
		{"a heading below is known", "[x](#größe)\n\n# Größe", `<p><a href="#gr%C3%B6%C3%9Fe">x</a></p>` + "\n" + `<h2 id="größe">Größe</h2>`, "", here},
		{"a heading that is not there", "# Light\n\n[x](#water)", `<h2 id="light">Light</h2>` + "\n" + `<p><a href="#water">x</a></p>`,
			`3:5: warning: no heading of this text is called "water" [link-fragment] hint: write a heading of that name, or leave out what follows the #`, here},
		{"a heading nearly there", "# Lighting\n\n[x](#lihting)", `<h2 id="lighting">Lighting</h2>` + "\n" + `<p><a href="#lihting">x</a></p>`,
			`3:5: warning: no heading of this text is called "lihting" [link-fragment] hint: did you mean #lighting?`, here},
		{"a photo by its address", "![x](https://example.org/x.jpg)", `<p>x</p>`,
			`1:6: error: "https://example.org/x.jpg" is not the name of a photo [photo-name] hint: write the name of a photo beside the text, as in trough-front.jpg`, here},
		{"a photo outside of its folder", "![x](../x.jpg)", `<p>x</p>`,
			`1:6: error: "../x.jpg" is not the name of a photo [photo-name] hint: write the name of a photo beside the text, as in trough-front.jpg`, here},
		{"a photo that is not there", "![x](trough-frond.jpg)", `<p>x</p>`,
			`1:6: error: there is no photo "trough-frond.jpg" [photo-missing] hint: did you mean trough-front.jpg?`, here},
		{"a photo without a description", "![](trough-front.jpg \"T\")",
			`<p><img src="photos/trough-front.jpg" srcset="photos/small-trough-front.jpg 480w" sizes="100vw" alt="" title="T" width="960" height="640" loading="lazy"></p>`,
			`1:1: error: the photo "trough-front.jpg" has no description [photo-alt] hint: say between the square brackets what can be seen`, here},
		{"HTML within a line", "a <b onclick=x>b</b>", `<p>a &lt;b onclick=x&gt;b&lt;/b&gt;</p>`,
			"1:3: warning: HTML is shown as text [raw-html] hint: write it in Markdown, or put code between backticks\n" +
				"1:17: warning: HTML is shown as text [raw-html] hint: write it in Markdown, or put code between backticks", here},
		{"a comment", "<!-- the Smiths paid -->", `<pre class="markup">&lt;!-- the Smiths paid --&gt;</pre>`,
			"1:1: warning: HTML is shown as text [raw-html] hint: this comment would be public; put notes to yourself in the head, under private", here},
		{"a figure's plant is not there", "```growth anubias-nanna\n```", `<p class="undrawn"><code>growth anubias-nanna</code></p>`,
			`1:4: error: there is no plant "anubias-nanna" [figure-name] hint: did you mean anubias-nana?`, here},
		{"a figure that cannot be drawn", "a\n\n~~~ parameter salinity trough\n~~~", "<p>a</p>\n<p class=\"undrawn\"><code>parameter salinity trough</code></p>",
			`3:5: error: no parameter "salinity" is measured [figure] hint: write ph, gh, kh or the like`, here},
		{"a figure of nothing", "```growth\n```", `<p class="undrawn"><code>growth</code></p>`,
			`1:4: error: can't draw a figure from "growth" [figure-form] hint: write growth PLANT, or growth PLANT TANK`, here},
		{"a figure of too much", "```water trough\n```", `<p class="undrawn"><code>water trough</code></p>`,
			`1:4: error: can't draw a figure from "water trough" [figure-form] hint: write water, and nothing after it`, here},
		{"text within a figure", "```water\n\n ph\n```", `<figure>water </figure>`,
			`3:1: warning: text inside a figure block is not shown [figure-text] hint: move it before or after the block`, here},
		{"code of no known language", "```growth.txt\na < \"b\"\r\n```", "<pre><code class=\"language-growth.txt\">a &lt; &quot;b&quot;\n</code></pre>", "", here},
		{"code with colours", "```yaml\nph: 6.7 # low\n```",
			"<pre><code class=\"language-yaml\"><span class=\"c-name\">ph</span>: <span class=\"c-number\">6.7</span> <span class=\"c-comment\"># low</span>\n</code></pre>", "", here},
		{"bytes that are no text", "a\xff\xfeb `\x00`", "<p>a\uFFFDb <code>\uFFFD</code></p>", "", here},
		{"nothing", "", "", "", here},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := render(t, Options{}, c.body, c.in)
			if got := strings.TrimSpace(string(d.HTML)); got != c.html {
				t.Errorf("HTML\n got  %s\n want %s", got, c.html)
			}
			if got := complaints(d.Faults); got != c.faults {
				t.Errorf("faults\n got  %s\n want %s", got, c.faults)
			}
		})
	}
}

func TestCheckFindsWhatRenderFinds(t *testing.T) {
	body, err := os.ReadFile("testdata/mistakes.md")
	if err != nil {
		t.Fatal(err)
	}
	m := New(Options{})
	d := m.Render(body, here)
	want := slices.DeleteFunc(d.Faults, func(f Fault) bool { return f.Rule == RuleFigure }) // Check draws nothing
	if diff := cmp.Diff(want, m.Check(body, garden{})); diff != "" {
		t.Errorf("Render finds -, Check finds +:\n%s", diff)
	}
	if len(want) < 10 {
		t.Errorf("only %d mistakes in the sample", len(want))
	}
}

func TestEveryFaultHasACure(t *testing.T) {
	d := render(t, Options{}, "```water\n```\n\n[a](plant:zzz) [b](entry:a/b) [c](../plants/qqq/) [d](#zzz) ![f](zzz.jpg) [g](javascript:1)\n", Place{Links: garden{}, Photos: garden{}, Figures: failing{}})
	if len(d.Faults) < 6 {
		t.Errorf("only these: %v", d.Faults)
	}
	for _, f := range d.Faults {
		if f.Hint == "" {
			t.Errorf("nothing says what to do about: %v", f)
		}
	}
}

type failing struct{}

func (failing) Figure(string, []string) (template.HTML, error) {
	return "half", errors.New("no measurements")
}

func TestOneMakerServesMany(t *testing.T) {
	body, err := os.ReadFile("testdata/harvest.md")
	if err != nil {
		t.Fatal(err)
	}
	m := New(Options{})
	first := m.Render(body, here)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for range 5 {
				if !cmp.Equal(m.Render(body, here), first) {
					t.Error("another result in parallel")
				}
			}
		})
	}
	wait.Wait()
}

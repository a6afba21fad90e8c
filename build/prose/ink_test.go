package prose

import (
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/alecthomas/chroma/v2"
)

// luminance and contrast are WCAG 2.2, definitions of relative luminance and contrast ratio.
func luminance(t testing.TB, hex string) float64 {
	t.Helper()
	if !regexp.MustCompile(`^#[0-9a-f]{6}$`).MatchString(hex) {
		t.Fatalf("%q is no colour", hex)
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func contrast(t testing.TB, a, b string) float64 {
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	if c := contrast(t, "#000000", "#ffffff"); math.Abs(c-21) > 1e-9 { // the greatest there is, by WCAG 2.2
		t.Errorf("black on white is %v, want 21", c)
	}
	if c := contrast(t, "#777777", "#ffffff"); c >= 4.5 || c < 4.4 { // the usual example of grey that just fails
		t.Errorf("#777777 on white is %v", c)
	}
}

func TestInksCanBeRead(t *testing.T) {
	for _, c := range []struct {
		scheme  string
		inks    Inks
		grounds []string
	}{
		{"day", DayInks(), []string{"#f0efe4", "#fbfaf4", "#fbf8f1", "#ffffff"}},
		{"night", NightInks(), []string{"#0d1a1a", "#142424", "#0f1f1c", "#000000"}},
	} {
		inks := reflect.ValueOf(c.inks)
		for i := range inks.NumField() {
			for _, ground := range c.grounds {
				if ratio := contrast(t, inks.Field(i).String(), ground); ratio < 4.5 {
					t.Errorf("%s: %s %s on %s has %.2f, less than 4.5", c.scheme, inks.Type().Field(i).Name, inks.Field(i), ground, ratio)
				}
			}
		}
	}
}

// Every class that code can get has a rule in both schemes, or is set in weight alone.
func TestEveryClassHasItsRule(t *testing.T) {
	css := CodeCSS(DayInks(), NightInks())
	light, dark, ok := strings.Cut(css, "(prefers-color-scheme: dark)")
	if !ok {
		t.Fatal("no rules for the dark")
	}
	var classes []string
	for kind := range chroma.StandardTypes {
		if class := classOf(kind); class != "" && !slices.Contains(classes, class) {
			classes = append(classes, class)
		}
	}
	if len(classes) != 8 {
		t.Errorf("%d classes in use, there are 8: %q", len(classes), classes)
	}
	for _, class := range classes {
		rule := "." + class + " {"
		if !strings.Contains(light, rule) || class != classTitle && !strings.Contains(dark, rule) {
			t.Errorf("no rule for .%s in both schemes", class)
		}
	}
	for _, ink := range []Inks{DayInks(), NightInks()} {
		for i := range reflect.TypeFor[Inks]().NumField() {
			if !strings.Contains(css, reflect.ValueOf(ink).Field(i).String()) {
				t.Errorf("%s is not used", reflect.TypeFor[Inks]().Field(i).Name)
			}
		}
	}
	if strings.Count(css, "{") != strings.Count(css, "}") {
		t.Errorf("braces do not match:\n%s", css)
	}
}

func TestColourChangesNoCharacter(t *testing.T) {
	spans := regexp.MustCompile(`</?span[^>]*>`)
	for _, c := range []struct{ language, code string }{
		{"js", "function f(s) { return null } // \"x\" < 3\n"},
		{"YAML", "# head\nph: [6.7, 7]\n\t- \"x\"\n"},
		{"diff", "--- a\n+++ b\n@@ -1 +1 @@\n-old <x>\n+new & y\n"},
		{"html", "<p class=\"x\">a &amp; b</p>\n"},
		{"json", "{\"a\": [1, true, null]}\n"},
		{"sh", "echo \"$HOME\" # x\n\n\n"},
		{"python", "def f(x):\n    return 'é' # ü\n"},
	} {
		html := string(render(t, Options{}, "~~~"+c.language+"\n"+c.code+"~~~\n", Place{}).HTML)
		if !strings.Contains(html, "<span class=\"c-") {
			t.Errorf("%s: no colour in %s", c.language, html)
		}
		plain := string(render(t, Options{}, "~~~ none\n"+c.code+"~~~\n", Place{}).HTML)
		if got := spans.ReplaceAllString(html, ""); got != strings.Replace(plain, "none", c.language, 1) {
			t.Errorf("%s: colours changed the code\n got  %q\n want %q", c.language, got, plain)
		}
	}
}

func TestLongCodeStaysPlain(t *testing.T) {
	body := "```js\n" + strings.Repeat("return 1\n", maxColoured/9+1) + "```\n"
	if html := string(render(t, Options{}, body, Place{}).HTML); strings.Contains(html, "<span") {
		t.Error("code beyond the limit is coloured")
	}
}

type brokenLexer struct{ chroma.Lexer }

func (brokenLexer) Tokenise(*chroma.TokeniseOptions, string) (chroma.Iterator, error) {
	panic("unknown state")
}
func (brokenLexer) Config() *chroma.Config { return &chroma.Config{Name: "broken"} }

func TestALexerThatPanicsLeavesCodePlain(t *testing.T) {
	if pieces, ok := cut(brokenLexer{}, "x"); ok || pieces != nil {
		t.Errorf("got %v, %v", pieces, ok)
	}
}

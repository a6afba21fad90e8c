package draw

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

const styles = "../../themes/bench/styles/"

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Every class that a drawing bears has a rule in the theme, and every rule's class is borne by a drawing.
func TestEveryClassHasARule(t *testing.T) {
	css := regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(read(t, styles+"61-draw.css")+read(t, styles+"62-tank.css"), "")
	ruled := map[string]bool{}
	for _, m := range regexp.MustCompile(`\.(d-[a-z0-9-]+)`).FindAllStringSubmatch(css, -1) {
		ruled[m[1]] = true
	}
	borne := map[string]bool{}
	all := tankGallery() + plateGallery() + markGallery() + shelfGallery() + careGallery()
	for _, m := range regexp.MustCompile(`class="([^"]+)"`).FindAllStringSubmatch(all, -1) {
		for _, class := range strings.Fields(m[1]) {
			if strings.HasPrefix(class, "d-") {
				borne[class] = true
			}
		}
	}
	for class := range borne {
		if !ruled[class] {
			t.Errorf("no rule for .%s", class)
		}
	}
	for class := range ruled {
		if !borne[class] {
			t.Errorf("no drawing bears .%s", class)
		}
	}
}

// The plants' colours have 3:1 (WCAG 2.2, success criterion 1.4.11) on all the grounds they are drawn on, in both schemes and
// on paper. The rows behind are mixed with the water on purpose, and exempt.
func TestPlantsStandOutFromTheGround(t *testing.T) {
	tokens, own := read(t, styles+"00-tokens.css"), read(t, styles+"61-draw.css")
	schemes := map[string]string{"light": `(?s)^(.*?)@media`, "dark": `(?s)scheme: dark\)(.*?)(?:@media|$)`, "print": `(?s)@media print(.*?)(?:@media|$)`}
	for scheme, pattern := range schemes {
		colours := map[string]float64{}
		for _, css := range []string{tokens, own} {
			block := regexp.MustCompile(pattern).FindStringSubmatch(css[max(0, strings.Index(css, ":root")):])
			if block == nil {
				t.Fatalf("no block for %s", scheme)
			}
			for _, m := range regexp.MustCompile(`--([a-z-]+): *(#[0-9a-f]{3,6})`).FindAllStringSubmatch(block[1], -1) {
				colours[m[1]] = luminance(t, m[2])
			}
		}
		for _, plant := range []string{"own-green", "own-fresh", "own-deep", "own-brown", "own-red", "own-olive", "own-pale", "own-moss", "own-root"} {
			for _, ground := range []string{"ground", "paper", "far-water"} {
				a, okA := colours[plant]
				b, okB := colours[ground]
				if !okA || !okB {
					t.Errorf("%s: no --%s or --%s", scheme, plant, ground)
					continue
				}
				if c := contrast(a, b); c < 3 {
					t.Errorf("%s: --%s on --%s has %.2f:1", scheme, plant, ground, c)
				}
			}
		}
	}
}

// luminance of a colour by the WCAG 2 definition of relative luminance.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	sum := 0.0
	for i, weight := range [...]float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		v := float64(n) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weight * v
	}
	return sum
}

func contrast(a, b float64) float64 { return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05) }

package chart

import (
	"html/template"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Whatever a year came to: a month that gave something has a bar, one that gave nothing a short line, one to come neither, and
// the table says the same figures.
func TestAnyMonths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Months{Caption: Caption{"r", "T" + anyText.Draw(t, "title")}, Month: anyText.Draw(t, "month")}
		for i := range m.Names {
			m.Names[i] = anyText.Draw(t, "name")
		}
		begun := rapid.IntRange(1, 12).Draw(t, "begun")
		bars, none := 0, 0
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			r := MonthRow{Name: anyText.Draw(t, "name"), Head: anyText.Draw(t, "head"), Voice: "leaf"}
			for range begun {
				v := rapid.SampledFrom([]int{0, 0, 1, 7, 40, 3000, largest}).Draw(t, "value")
				if r.Values = append(r.Values, v); v == 0 {
					none++
				} else {
					bars++
				}
			}
			m.Rows = append(m.Rows, r)
		}
		p := m.Draw()
		readBoth(t, p, m.Title)
		for _, svg := range []template.HTML{p.Broad, p.Narrow} {
			if b, n := strings.Count(string(svg), `class="column leaf"`), strings.Count(string(svg), `class="none"`); b != bars || n != none {
				t.Fatalf("%d bars and %d lines for nothing, want %d and %d", b, n, bars, none)
			}
		}
		if len(p.Table.Rows) != begun || p.Table.Rows[begun-1][1] != strconv.Itoa(m.Rows[0].Values[begun-1]) {
			t.Fatalf("%d months in the table: %v", begun, p.Table.Rows)
		}
	})
}

package topic

import (
	"encoding/json"
	"strconv"
	"strings"
)

// Answer is what a question gives, ready to print for readers or machines.
type Answer struct {
	Topic    string         `json:"topic"`
	Inputs   map[string]any `json:"inputs"` // by key, as given: quantities with their units
	Results  []Result       `json:"results"`
	Working  []string       `json:"working"`
	Sources  []string       `json:"sources"`
	Cautions []string       `json:"cautions"`
}

// Result is one figure of an answer; shares are parts of one.
type Result struct {
	Name      string
	Value     float64
	Unit      string   // in the spelling of the journal format; "" for a pure number
	Low, High *float64 // the ends of its range; nil when it has none
	Word      string   // a result that is a word and no figure: the model chosen
	shown     string   // for readers
}

// Named gives the first result of that name.
func (a Answer) Named(name string) (Result, bool) {
	for _, r := range a.Results {
		if r.Name == name {
			return r, true
		}
	}
	return Result{}, false
}

// MarshalJSON writes {"name", "value", "unit", "low", "high"} with ten significant digits, which all machines agree on.
func (r Result) MarshalJSON() ([]byte, error) {
	out := struct {
		Name  string       `json:"name"`
		Value any          `json:"value"`
		Unit  string       `json:"unit"`
		Low   *json.Number `json:"low,omitempty"`
		High  *json.Number `json:"high,omitempty"`
	}{Name: r.Name, Value: rounded(r.Value), Unit: r.Unit}
	if r.Word != "" {
		out.Value = r.Word
	}
	if r.Low != nil && r.High != nil {
		out.Low, out.High = new(rounded(*r.Low)), new(rounded(*r.High))
	}
	return json.Marshal(out)
}

func rounded(v float64) json.Number {
	return json.Number(strconv.FormatFloat(v+0, 'g', 10, 64))
}

// MarshalJSON writes empty lists as [], never null.
func (a Answer) MarshalJSON() ([]byte, error) {
	type plainAnswer Answer
	p := plainAnswer(a)
	if p.Results == nil {
		p.Results = []Result{}
	}
	for _, list := range []*[]string{&p.Working, &p.Sources, &p.Cautions} {
		if *list == nil {
			*list = []string{}
		}
	}
	return json.Marshal(p)
}

// Text writes the answer for readers: results, working, sources, cautions; each line ends in a newline.
func (a Answer) Text() string {
	var b strings.Builder
	width := 0
	for _, r := range a.Results {
		width = max(width, len(r.Name))
	}
	for _, r := range a.Results {
		shown := r.shown
		if r.Word != "" {
			shown = r.Word
		}
		b.WriteString(r.Name + strings.Repeat(" ", width-len(r.Name)) + "  " + shown + "\n")
	}
	section := func(title string, lines []string) {
		if len(lines) == 0 {
			return
		}
		b.WriteString("\n" + title + "\n")
		for _, l := range lines {
			b.WriteString("  " + l + "\n")
		}
	}
	section("Working", a.Working)
	section("Sources", a.Sources)
	section("Cautions", a.Cautions)
	return b.String()
}

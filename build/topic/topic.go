// Package topic answers questions on the command line: a sum asked for by name, with key=value.
package topic

import (
	"slices"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/spelling"
)

// Arg is one key=value of a question.
type Arg struct{ Key, Value string }

// ParseArgs splits words of the form key=value.
func ParseArgs(words []string) ([]Arg, error) {
	var out []Arg
	for _, w := range words {
		k, v, ok := strings.Cut(w, "=")
		if !ok || k == "" {
			return nil, &reckon.InputError{Kind: reckon.WrongUnit, Name: spelling.Clip(w), Value: "", Why: "an input is written key=value"}
		}
		out = append(out, Arg{k, v})
	}
	return out, nil
}

// Topic is a sum that can be asked for by name.
type Topic struct {
	Name  string
	Gives string   // in a few words, for help
	Needs []string // keys in words, for help: "ph", "kh or gh", "[hours]" for one that may be left out
	run   func(*question)
}

// Topics is the table of what can be asked, in the order of the help. Every topic takes level as well.
func Topics() []Topic {
	return []Topic{
		{"hardness", "convert hardness between units", []string{"gh or kh, or ca and mg"}, askHardness},
		{"co2", "CO2 from pH and KH", []string{"ph", "kh", "temperature", "[gh]", "[conductivity]"}, askCO2},
		{"target-ph", "the pH that goes with a CO2 level", []string{"co2", "kh", "temperature", "[gh]", "[conductivity]"}, askTargetPH},
		{"dose", "what a salt adds, or how much to weigh out", []string{"salt", "volume", "mass or one of " + strings.Join(raiseKeys(), ", ")}, askDose},
		{"blend", "mix two waters", []string{"kh-a and kh-b, or gh-a and gh-b", "want", "[volume]"}, askBlend},
		{"water-change", "what water changes leave", []string{"share", "times", "start", "tap"}, askWaterChange},
		{"changes-needed", "how many water changes reach a value", []string{"share", "start", "tap", "want"}, askChangesNeeded},
		{"dose-peak", "the peak of repeated doses", []string{"dose", "share", "[tap]"}, askDosePeak},
		{"solids", "conductivity and dissolved solids", []string{"conductivity or dissolved-solids, or both"}, askSolids},
		{"tank", "volume, weight and floor load", []string{"length", "width", "height", "[water-depth]", "[substrate-depth]", "[rim-gap]"}, askTank},
		{"light", "PAR in a tank from its lights", []string{"lamp-power and lamp-efficacy, or lamp-output and lamp-kind", "lamp-length", "lamp-width", "above-water", "length", "width", "water-depth", "[hours]", "[water]", "[cover]", "[floating]"}, askLight},
		{"lux", "PAR from a lux meter", []string{"lux", "[lamp-kind]", "[hours]"}, askLux},
		{"room-co2", "CO2 in the air if a cylinder empties", []string{"mass", "length", "width", "height"}, askRoomCO2},
		{"oxygen", "oxygen in the water, and overnight", []string{"temperature", "[altitude]", "[oxygen]", "[volume]", "[length]", "[width]", "[hours]", "[plants]", "[fish]", "[exchange]"}, askOxygen},
		{"scale", "whether lime scale forms", []string{"ph", "kh", "gh", "temperature", "[ca]", "[conductivity]"}, askScale},
		{"uptake", "nutrients that trimmings take out", []string{"mass"}, askUptake},
		{"parcel", "temperature of a parcel on its way", []string{"mass", "length", "width", "height", "start", "outside", "hours", "[wall]", "[keeps]", "[plant]", "[from]", "[to]"}, askParcel},
		{"growth", "growth rate and doubling time", []string{"points", "[trims]"}, askGrowth},
		{"share", "success rate with its interval", []string{"yes", "of"}, askShare},
		{"ammonia", "toxic ammonia from a total", []string{"tan", "ph", "temperature"}, askAmmonia},
	}
}

// keys are all that the topic takes: what it needs, without the words between them. Every topic takes level as well.
func (t Topic) keys() []string {
	var keys []string
	for _, need := range t.Needs {
		words := strings.FieldsFunc(need, func(r rune) bool { return strings.ContainsRune(" ,[]", r) })
		if len(words) > 1 {
			words = slices.DeleteFunc(words, func(w string) bool { return slices.Contains([]string{"and", "or", "one", "of", "both"}, w) })
		}
		keys = append(keys, words...)
	}
	return append(keys, "level")
}

// Reckon answers one question: a topic and its inputs, each key at most once, in any unit of the journal format. level
// sets the interval of sums that have one (95 %). Errors are of type *[InputError], or those of growth.
func Reckon(topic string, args []Arg) (Answer, error) {
	var names []string
	for _, t := range Topics() {
		if t.Name == topic {
			return t.answer(args)
		}
		names = append(names, t.Name)
	}
	return Answer{}, &reckon.InputError{Kind: reckon.Unknown, Name: "topic", Value: spelling.Clip(topic), Hint: reckon.DidYouMean(topic, names)}
}

func (t Topic) answer(args []Arg) (answer Answer, err error) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case stop:
			answer, err = Answer{}, r.err
		default:
			panic(r)
		}
	}()
	q := &question{values: map[string]string{}, answer: Answer{Topic: t.Name, Inputs: map[string]any{}}}
	keys := t.keys()
	for _, a := range args {
		if !slices.Contains(keys, a.Key) {
			return Answer{}, &reckon.InputError{Kind: reckon.Unknown, Name: "key of " + t.Name, Value: spelling.Clip(a.Key), Hint: reckon.DidYouMean(a.Key, keys)}
		}
		if _, twice := q.values[a.Key]; twice {
			return Answer{}, &reckon.InputError{Kind: reckon.Contradictory, Name: a.Key, Value: spelling.Clip(a.Value), Why: "it is given twice"}
		}
		q.values[a.Key] = a.Value
	}
	q.level = 0.95
	if l := may[quantity.Share](q, "level"); l.Known() {
		q.level = l.Mid()
	}
	q.fail(reckon.CheckLevel(q.level))
	t.run(q)
	if q.values["level"] != "" && !q.leveled {
		q.notes = append(q.notes, "level is not used: the range of this sum is no statistical interval")
	}
	q.answer.Working = append(q.answer.Working, q.notes...)
	return q.answer, nil
}

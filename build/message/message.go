// Package message reads what somebody who would like plants writes about their tank, in English or German and in any
// wording: the block of plain lines where there is one, else figures with their units, places, post or by hand. What it is
// not sure of it shows as a guess, and of two readings it takes neither. It is pure.
package message

import (
	"slices"
	"strings"

	"slipleaf/build/block"
)

// Fact is a key of the block, its value as the block writes it, and the words that it was read from.
type Fact struct {
	Key  string `json:"key"`
	Is   string `json:"value"`
	From string `json:"from"`
}

// Doubt is a key of which the message says several things, or one that is about something else.
type Doubt struct {
	Key  string
	Of   []string // what may be meant
	Why  Why
	From string // the words that it was read from, or what it is said of
}

// Reading is what a message says. Block holds what was said and what was guessed.
type Reading struct {
	Block   block.Block
	Said    []Fact       // in the order of the block's keys
	Guessed []Fact       // what is probably meant
	Doubts  []Doubt      // not taken
	Missing []string     // keys that a care sheet needs most and that are not known
	InBlock bool         // there were plain lines
	Notes   []block.Note // what was wrong with these

	letter string
}

// Asks reports whether anything but plain lines was read, so that somebody should look at it.
func (r Reading) Asks() bool {
	return len(r.Guessed)+len(r.Doubts) > 0 || !r.InBlock || slices.ContainsFunc(r.Said, func(f Fact) bool { return f.From != "" })
}

// needed are the keys that a care sheet needs most.
var needed = []string{"how", "region", "temperature", "gh", "kh", "ph", "tank length", "tank width", "water depth", "co2"}

// Read reads a message. The error is that it is too long.
func Read(text string) (Reading, error) {
	if len(text) > block.MaxBytes {
		return Reading{}, block.ErrTooLong
	}
	r := Reading{letter: text}
	if b, notes, err := block.Parse(text); err == nil {
		r.Block, r.Notes, r.InBlock = b, notes, true
		text = withoutBlock(text)
	}
	inBlock := r.Block.String()
	said := map[string][]candidate{}
	for _, c := range candidates(text) {
		if !strings.Contains(inBlock, "\n"+c.key+": ") {
			said[c.key] = append(said[c.key], c)
		}
	}
	for _, key := range block.Keys() {
		if value := valueOf(inBlock, key); value != "" {
			r.Said = append(r.Said, Fact{Key: key, Is: value})
		}
		if key == "count" && len(said["lot"]) > 1 && r.Block.Lot == "" && !r.InBlock { // of which lot so many are wanted is not known
			for i := range said[key] {
				said[key][i].why = Lots
			}
		}
		r.take(key, said[key])
	}
	for _, key := range needed {
		if valueOf(r.Block.String(), key) == "" {
			r.Missing = append(r.Missing, key)
		}
	}
	return r, nil
}

// take decides what is meant by all that a message says of a key.
func (r *Reading) take(key string, all []candidate) {
	var of []string
	var first *candidate
	left := Doubt{Key: key}
	for i := range all {
		c := &all[i]
		if c.why != Taken {
			left.Why, left.From = c.why, c.from
			continue
		}
		value := r.asBlock(key, c.value)
		if value == "" {
			left.Why, left.From = Unclear, c.from
			continue
		}
		if first != nil && first.rank != c.rank {
			if first.rank > c.rank {
				continue
			}
			of, first = nil, nil
		}
		if !slices.Contains(of, value) {
			of = append(of, value)
		}
		if first == nil || first.guess && !c.guess {
			first = c
		}
	}
	switch {
	case len(of) > 1:
		r.Doubts = append(r.Doubts, Doubt{Key: key, Of: of, Why: Both})
	case len(of) == 1:
		f := Fact{key, of[0], first.from}
		said, _, _ := block.Lines(key + ": " + of[0])
		r.Block = r.Block.ReplaceOver(said)
		if first.guess {
			r.Guessed = append(r.Guessed, f)
		} else {
			r.Said = append(r.Said, f)
		}
	case left.Why != Taken:
		r.Doubts = append(r.Doubts, left)
	}
}

// asBlock is a value as the block writes it; "" where the block does not take it.
func (r *Reading) asBlock(key, value string) string {
	b, notes, err := block.Lines(key + ": " + value)
	if err != nil || len(notes) > 0 {
		return ""
	}
	return valueOf(b.String(), key)
}

// valueOf is the value of a key in a printed block.
func valueOf(printed, key string) string {
	_, rest, ok := strings.Cut(printed, "\n"+key+": ")
	if !ok {
		return ""
	}
	value, _, _ := strings.Cut(rest, "\n")
	return value
}

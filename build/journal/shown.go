package journal

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"slipleaf/build/listing"
	"slipleaf/build/usual"
)

// The code of a care sheet is a secret between grower and recipient. A text that is published must not hold one: neither
// an entry, a page or a plant's file, nor a photo's name, nor the note to another recipient.

// leastCode is how many letters a code has at least.
const leastCode = 20

// longWord is a run of letters and digits that is long enough for a code, with its place in the file.
type longWord struct {
	text         string // in small letters
	line, column int
}

// longWords lists those of a file that may be published: all but the private part and, of a parcel, the head.
func longWords(f listing.File, data []byte) (out []longWord) {
	if f.Kind == listing.FriendFile || !holdsLong(data) {
		return nil
	}
	lines := linesOf(data)
	hidden := hiddenLines(f.Path, lines)
	inHead := f.Kind == listing.ParcelFile
	for i, l := range lines {
		if inHead {
			inHead = i == 0 || !usual.Fence([]byte(l))
			continue
		}
		if !hidden[i] {
			out = append(out, wordsIn(l, i+1)...)
		}
	}
	return out
}

// holdsLong reports whether there is a run of letters and digits as long as a code. Where the last of so many is none, the
// next run begins behind it at the earliest.
func holdsLong(data []byte) bool {
	for from := 0; from+leastCode <= len(data); {
		at := from + leastCode - 1
		for at >= from && isWordByte(data[at]) {
			at--
		}
		if at < from {
			return true
		}
		from = at + 1
	}
	return false
}

func isWordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
}

// wordsIn lists the long words of a line.
func wordsIn(l string, line int) (out []longWord) {
	for at := 0; at < len(l); {
		end := at
		for end < len(l) && isWordByte(l[end]) {
			end++
		}
		if end-at >= leastCode {
			out = append(out, longWord{strings.ToLower(l[at:end]), line, utf8.RuneCountInString(l[:at]) + 1})
		}
		at = end + 1
	}
	return out
}

// shownCodes complains of every known code in what is published.
func (l *linker) shownCodes(parts []*part) {
	if len(l.journal.parcel) == 0 {
		return
	}
	var lengths []int
	for code := range l.journal.parcel {
		if !slices.Contains(lengths, len(code)) {
			lengths = append(lengths, len(code))
		}
	}
	slices.Sort(lengths)
	look := func(file string, own *Parcel, words []longWord) {
		for _, w := range words {
			if p := l.codeIn(w.text, lengths); p != nil && (own == nil || p.Code != own.Code) {
				l.out.Add(complaint(ruleShownCode, file, w.line, w.column, fmt.Sprintf("this is the code of the care sheet for %s, and it would be published", p.Path), ""))
			}
		}
	}
	for _, p := range parts {
		look(p.Path, p.parcel, p.words)
	}
	for _, name := range l.photos {
		look("photos/"+name, nil, wordsIn(name, 1))
	}
}

// codeIn is the parcel whose code a word holds; nil for none.
func (l *linker) codeIn(word string, lengths []int) *Parcel {
	for _, n := range lengths {
		for at := 0; at+n <= len(word); at++ {
			if p, ok := l.journal.parcel[word[at:at+n]]; ok {
				return p
			}
		}
	}
	return nil
}

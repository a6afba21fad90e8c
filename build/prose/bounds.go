package prose

import (
	"bytes"
	"fmt"
)

// The bounds of a text, since the time of the parser grows with their squares: a text of a megabyte at all of them takes
// some seconds, one far beyond them hours. What people write stays a hundredfold below (our choice).
const (
	MaxQuotes   = 100       // marks of quotation before one line
	MaxRun      = 128 << 10 // bytes of lines with no empty one between them: a paragraph, a table
	MaxBrackets = 2000      // closing square brackets in such lines
)

// bounded finds what is beyond the bounds; nil for a text within them.
func bounded(source []byte) *Fault {
	run, brackets, began := 0, 0, 1
	number := 0
	for line := range bytes.Lines(source) {
		number++
		if len(bytes.TrimSpace(line)) == 0 {
			run, brackets, began = 0, 0, number+1
			continue
		}
		run += len(line)
		brackets += bytes.Count(line, []byte("]"))
		message, hint := "", "put an empty line between paragraphs"
		switch quotes := quoting(line); {
		case quotes > MaxQuotes:
			message, hint, began = fmt.Sprintf("quotation is nested %d deep; the limit is %d", quotes, MaxQuotes), "remove some >", number
		case run > MaxRun:
			message = fmt.Sprintf("more than %d kB stand here without an empty line between", MaxRun>>10)
		case brackets > MaxBrackets:
			message = fmt.Sprintf("more than %d square brackets are closed here without an empty line between", MaxBrackets)
		default:
			continue
		}
		return &Fault{Line: began, Column: 1, Rule: RuleTooMuch, Message: message, Hint: hint}
	}
	return nil
}

// quoting counts the marks of quotation that a line begins with.
func quoting(line []byte) int {
	n := 0
	for _, c := range line {
		switch c {
		case '>':
			n++
		case ' ', '\t':
		default:
			return n
		}
	}
	return n
}

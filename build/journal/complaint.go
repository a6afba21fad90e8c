package journal

import (
	"cmp"
	"fmt"
	"slices"
)

// Severity says whether a complaint stops publishing.
type Severity uint8

// The severities.
const (
	Error Severity = iota
	Warning
	Note // nothing is wrong
)

// String is "error", "warning" or "note".
func (s Severity) String() string {
	return [...]string{Error: "error", Warning: "warning", Note: "note"}[s]
}

// MarshalText writes the severity as a word.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Complaint is something wrong at a place of a file. Line and Column count from 1, columns in characters.
type Complaint struct {
	File     string   `json:"file"`
	Line     int      `json:"line"`
	Column   int      `json:"column"`
	Severity Severity `json:"severity"`
	Rule     string   `json:"rule"`    // a short kebab-case name, stable
	Message  string   `json:"message"` // what is wrong, and what is expected
	Hint     string   `json:"hint"`    // what to do: the nearest right spelling, or the cure of the rule
}

// String is the complaint's first line: file:line:column: severity: message.
func (c Complaint) String() string {
	return fmt.Sprintf("%s:%d:%d: %s: %s", c.File, c.Line, c.Column, c.Severity, c.Message)
}

// Complaints is all that is wrong with a journal.
type Complaints []Complaint

// Sort orders by file, line, column, rule and message.
func (cs Complaints) Sort() {
	slices.SortFunc(cs, func(a, b Complaint) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Message, b.Message))
	})
}

// Errors counts those that stop publishing.
func (cs Complaints) Errors() int { return cs.Count(Error) }

// Count counts those of a severity.
func (cs Complaints) Count(s Severity) int { return len(cs.Only(s)) }

// Only are those of a severity.
func (cs Complaints) Only(s Severity) Complaints {
	return slices.DeleteFunc(slices.Clone(cs), func(c Complaint) bool { return c.Severity != s })
}

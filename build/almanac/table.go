package almanac

import (
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/quantity"
)

//go:embed tables/*.csv
var tables embed.FS

// row is one row of a table; its getters note what is wrong instead of failing at the first fault.
type row struct {
	table  *table
	line   int
	fields []string
}

// table reads a CSV file whose header must be exactly its columns.
type table struct {
	name    string
	columns []string
	rows    []row
	faults  []error
}

// readTable reads the named file strictly: header, number of fields, no control characters, no stray spaces.
func readTable(fsys fs.FS, name, header string) *table {
	columns := strings.Split(header, ",")
	t := &table{name: name, columns: columns}
	f, err := fsys.Open("tables/" + name)
	if err != nil {
		t.faults = append(t.faults, err)
		return t
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = len(columns)
	records, err := r.ReadAll()
	switch {
	case err != nil:
		t.faults = append(t.faults, fmt.Errorf("%s: %w", name, err))
	case len(records) < 2:
		t.faults = append(t.faults, fmt.Errorf("%s: no rows", name))
	case !slices.Equal(records[0], columns):
		t.faults = append(t.faults, fmt.Errorf("%s: header is %q, not %q", name, records[0], columns))
	default:
		t.rows = make([]row, 0, len(records)-1)
		for i, fields := range records[1:] {
			t.rows = append(t.rows, row{t, i + 2, fields})
		}
	}
	return t
}

// err joins what was found wrong in the table.
func (t *table) err() error { return errors.Join(t.faults...) }

func (r row) fault(column, format string, args ...any) {
	r.table.faults = append(r.table.faults,
		fmt.Errorf("%s: row %d: %s: %s", r.table.name, r.line, column, fmt.Sprintf(format, args...)))
}

// text gives a cell, which may be empty.
func (r row) text(column string) string {
	i := slices.Index(r.table.columns, column)
	if i < 0 {
		r.fault(column, "no such column")
		return ""
	}
	s := r.fields[i]
	if s != strings.TrimSpace(s) || strings.ContainsAny(s, "\n\t") {
		r.fault(column, "stray space in %q", s)
	}
	return s
}

// must gives a cell that may not be empty.
func (r row) must(column string) string {
	s := r.text(column)
	if s == "" {
		r.fault(column, "is empty")
	}
	return s
}

// one gives a cell that holds one of the allowed words.
func (r row) one(column string, allowed ...string) string {
	s := r.text(column)
	if !slices.Contains(allowed, s) {
		r.fault(column, "%q is none of %q", s, allowed)
	}
	return s
}

// rank gives a cell that holds 0, 1, 2 or 3.
func (r row) rank(column string) *int {
	n, err := strconv.Atoi(r.one(column, "0", "1", "2", "3"))
	if err != nil {
		return nil
	}
	return &n
}

// list gives the parts of a cell between "; ".
func (r row) list(column string) []string {
	s := r.text(column)
	if s == "" {
		return nil
	}
	parts := strings.Split(s, "; ")
	for _, p := range parts {
		if strings.TrimSpace(p) != p || p == "" || strings.Contains(p, ";") {
			r.fault(column, "the list %q has a bad part %q", s, p)
		}
	}
	return parts
}

// date gives a full-date.
func (r row) date(column string) quantity.Date {
	d, err := quantity.ParseDate(r.text(column))
	if err != nil {
		r.fault(column, "%v", err)
	}
	return d
}

// between reads the range of two cells in one unit; the ends must be numbers in order.
func between[T quantity.Scalar](r row, low, high, unit string) quantity.Reading[T] {
	v, err := quantity.Parse[T](r.must(low) + ".." + r.must(high) + " " + unit)
	if err != nil {
		r.fault(low+" and "+high, "%v", err)
	}
	return v
}

// single reads one cell in a unit.
func single[T quantity.Scalar](r row, column, unit string) quantity.Reading[T] {
	v, err := quantity.Parse[T](r.must(column) + " " + unit)
	if err != nil {
		r.fault(column, "%v", err)
	}
	return v
}

package facts

import (
	"encoding/binary"

	"slipleaf/build/fingerprint"
)

// Kind is a kind of fact.
type Kind uint8

// The kinds of facts, with what Name and More of their keys hold.
const (
	Frame      Kind = iota // what every page has: program, theme, journal.yaml, the heads of tanks, plants and pages, which plants there are, the photos
	Day                    // the day of the site
	Heads                  // every head: all that is counted, offered and sent
	Friends                // the files of friends
	Years                  // the years that have entries, and those that have a review
	Year                   // the heads of a year's entries: the year
	Tank                   // the heads of a tank's entries: its id
	SoFar                  // the heads of a tank's entries by the day of the site: its id; of all tanks: ""
	Water                  // a tank's readings up to a day: its id, the day; "" for that of the site
	Age                    // how old on the day of the site what was read of a law is: of when it is, how much of it is held
	Begun                  // whether a tank has entries by the day of the site: its id
	Naming                 // the tanks whose entries name a plant: its id
	Entry                  // the head of an entry: its path
	Neighbours             // path and title of the entries around one: its path
	Body                   // a text: the path of its file
	Brief                  // as much of a text as lists show of it: the path of its file
	Lot                    // what the journal says of a lot: its id
	LotsOf                 // the lots of a plant, how they stand on the day of the site, and all that was taken from them: its id
	Parcel                 // the head of a record: its path
	Outcomes               // how a plant does for others, which the parcels of every other plant weigh on too: its id
	Others                 // the same for others than a recipient: the plant's id, the path of the record and its lot
	Counted                // the series of counts by the day of the site: the ids of tank and plant; "" for all
	Grown                  // how these grow on that day, and what they give: the ids of tank and plant; "" for all
	kinds
)

// Key names a fact.
type Key struct {
	Kind       Kind
	Name, More string
}

// appendTo writes a key so that [readKey] reads it back.
func (k Key) appendTo(out []byte) []byte {
	out = append(out, byte(k.Kind))
	for _, s := range [...]string{k.Name, k.More} {
		out = append(binary.AppendUvarint(out, uint64(len(s))), s...)
	}
	return out
}

func readKey(in []byte) (k Key, rest []byte, ok bool) {
	if len(in) == 0 || in[0] >= byte(kinds) {
		return k, nil, false
	}
	k.Kind, in = Kind(in[0]), in[1:]
	for _, to := range [...]*string{&k.Name, &k.More} {
		n, size := binary.Uvarint(in)
		if size <= 0 || n > uint64(len(in)-size) {
			return k, nil, false
		}
		*to, in = string(in[size:size+int(n)]), in[size+int(n):]
	}
	return k, in, true
}

// Record is what files are made from, in a form to be kept: each key once; the fingerprint of each fact as it was; then, for
// each file in its order, how many keys it has and their numbers. It is runs of bytes, since it is often kept and seldom read.
type Record struct{ Keys, Sums, Files []byte }

// Made is a record that was read, and what is known of its facts since. It is safe for concurrent use once that was asked.
type Made struct {
	Keys  []Key
	Sums  []fingerprint.Sum
	files [][]int32 // the numbers of its keys, by file
	stays []bool    // a fact is as it was, by the number of its key
}

// mostRead is how many readings a record may hold: twenty times what the largest site's comes to (our choice).
const mostRead = 1 << 23

// Read gives what each file was made from; ok is false where the record is damaged or too large.
func (r Record) Read() (m *Made, ok bool) {
	const sumLen = len(fingerprint.Sum{})
	if len(r.Keys) > 32*mostRead || len(r.Files) > mostRead {
		return nil, false
	}
	m = &Made{}
	for in := r.Keys; len(in) > 0; {
		k, rest, ok := readKey(in)
		if !ok {
			return nil, false
		}
		m.Keys, in = append(m.Keys, k), rest
	}
	if len(r.Sums) != sumLen*len(m.Keys) {
		return nil, false
	}
	m.Sums, m.stays = make([]fingerprint.Sum, len(m.Keys)), make([]bool, len(m.Keys))
	for i := range m.Sums {
		copy(m.Sums[i][:], r.Sums[sumLen*i:])
	}
	numbers := make([]int32, 0, len(r.Files)) // of all files; it never grows
	for in := r.Files; len(in) > 0; {
		many, size := binary.Uvarint(in)
		if size <= 0 || many > uint64(len(in)) {
			return nil, false
		}
		in = in[size:]
		from := len(numbers)
		for range many {
			n, size := binary.Uvarint(in)
			if size <= 0 || n >= uint64(len(m.Keys)) {
				return nil, false
			}
			numbers, in = append(numbers, int32(n)), in[size:]
		}
		m.files = append(m.files, numbers[from:len(numbers):len(numbers)])
	}
	return m, true
}

// Files is how many files the record is of; none of a nil one.
func (m *Made) Files() int {
	if m == nil {
		return 0
	}
	return len(m.files)
}

// Of lists the keys of a file.
func (m *Made) Of(file int) []Key {
	out := make([]Key, len(m.files[file]))
	for i, n := range m.files[file] {
		out[i] = m.Keys[n]
	}
	return out
}

// Ask finds out whether the fact of a key is as it was, by its fingerprint now.
func (m *Made) Ask(key int, now fingerprint.Sum) { m.stays[key] = m.Sums[key] == now }

// Stays reports whether all that a file was made from is as it was, as far as that was asked.
func (m *Made) Stays(file int) bool {
	for _, n := range m.files[file] {
		if !m.stays[n] {
			return false
		}
	}
	return true
}

// Recording makes a [Record]. It is not safe for concurrent use.
type Recording struct {
	sum    func(Key) fingerprint.Sum
	record Record
	number map[Key]int32
	was    *Made
	kept   []int32 // the numbers that keys of was have here, and 1; 0: not yet any
}

// NewRecording begins a record of facts whose fingerprints sum tells, of files that may stay what they were made from by an
// older record; was may be nil.
func NewRecording(sum func(Key) fingerprint.Sum, was *Made) *Recording {
	r := &Recording{sum: sum, number: map[Key]int32{}, was: was}
	if was != nil {
		r.kept = make([]int32, len(was.Keys))
	}
	return r
}

// Add adds the keys of the next file.
func (r *Recording) Add(keys []Key) {
	r.many(len(keys))
	for _, k := range keys {
		r.one(r.numberOf(k, nil))
	}
}

// Keep adds a file of the older record of which all stays.
func (r *Recording) Keep(file int) {
	r.many(len(r.was.files[file]))
	for _, n := range r.was.files[file] {
		if r.kept[n] == 0 {
			r.kept[n] = r.numberOf(r.was.Keys[n], &r.was.Sums[n]) + 1
		}
		r.one(r.kept[n] - 1)
	}
}

func (r *Recording) many(n int) {
	r.record.Files = binary.AppendUvarint(r.record.Files, uint64(n))
}

func (r *Recording) one(n int32) { r.many(int(n)) }

// numberOf is the number of a key, and writes it down with its fingerprint, which may be known, if it is new.
func (r *Recording) numberOf(k Key, known *fingerprint.Sum) int32 {
	n, there := r.number[k]
	if !there {
		n = int32(len(r.number))
		r.number[k] = n
		r.record.Keys = k.appendTo(r.record.Keys)
		sum := known
		if sum == nil {
			sum = new(r.sum(k))
		}
		r.record.Sums = append(r.record.Sums, sum[:]...)
	}
	return n
}

// Done is the record of all files added.
func (r *Recording) Done() Record { return r.record }

// blend makes one fingerprint of several.
func blend(parts ...fingerprint.Sum) fingerprint.Sum {
	all := make([]byte, 0, len(fingerprint.Sum{})*len(parts))
	for _, p := range parts {
		all = append(all, p[:]...)
	}
	return fingerprint.Of(all)
}

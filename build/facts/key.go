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
	Begun                  // whether a tank has entries by the day of the site: its id
	Naming                 // the tanks whose entries name a plant: its id
	Entry                  // the head of an entry: its path
	Neighbours             // path and title of the entries around one: its path
	Body                   // a text: the path of its file
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

// Record is what files are made from, in a form to be kept: each key once; then, for each file in its order, how many keys
// it has and their numbers. It is two runs of bytes, since it is often kept and seldom read.
type Record struct{ Keys, Files []byte }

// Recording makes a [Record]. It is not safe for concurrent use.
type Recording struct {
	record Record
	number map[Key]uint64
}

// Add adds the keys of the next file.
func (r *Recording) Add(keys []Key) {
	if r.number == nil {
		r.number = map[Key]uint64{}
	}
	r.record.Files = binary.AppendUvarint(r.record.Files, uint64(len(keys)))
	for _, k := range keys {
		n, known := r.number[k]
		if !known {
			n = uint64(len(r.number))
			r.number[k] = n
			r.record.Keys = k.appendTo(r.record.Keys)
		}
		r.record.Files = binary.AppendUvarint(r.record.Files, n)
	}
}

// Done is the record of all files added.
func (r *Recording) Done() Record { return r.record }

// mostRead is how many readings a record may hold: twenty times what the largest site's comes to (our choice).
const mostRead = 1 << 23

// Read gives the keys of each file; ok is false where the record is damaged or too large.
func (r Record) Read() (files [][]Key, ok bool) {
	if len(r.Keys) > 32*mostRead || len(r.Files) > mostRead {
		return nil, false
	}
	var all []Key
	for in := r.Keys; len(in) > 0; {
		k, rest, ok := readKey(in)
		if !ok {
			return nil, false
		}
		all, in = append(all, k), rest
	}
	for in := r.Files; len(in) > 0; {
		many, size := binary.Uvarint(in)
		if size <= 0 || many > uint64(len(in)) {
			return nil, false
		}
		in = in[size:]
		file := make([]Key, many)
		for i := range file {
			n, size := binary.Uvarint(in)
			if size <= 0 || n >= uint64(len(all)) {
				return nil, false
			}
			file[i], in = all[n], in[size:]
		}
		files = append(files, file)
	}
	return files, true
}

// blend makes one fingerprint of several.
func blend(parts ...fingerprint.Sum) fingerprint.Sum {
	all := make([]byte, 0, len(fingerprint.Sum{})*len(parts))
	for _, p := range parts {
		all = append(all, p[:]...)
	}
	return fingerprint.Of(all)
}

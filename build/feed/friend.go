package feed

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"slipleaf/build/journal"
	"slipleaf/build/listing"
	"slipleaf/build/schema"
)

// The limits of a friend's file: what a grower with many lots needs several times over.
const (
	MaxFriendBytes = 1 << 20
	maxDepth       = 16
)

// FriendReader reads other growers' offers files. They are somebody else's text: held against the schema, cut to
// what it knows, cleaned of what could disturb a page, and never more than shown. Use [NewFriendReader].
type FriendReader struct{ schema *jsonschema.Schema }

// NewFriendReader makes a reader, once; it is safe for concurrent use.
var NewFriendReader = sync.OnceValue(newFriendReader)

func newFriendReader() *FriendReader {
	text, err := schema.Write("offers")
	doc, notJSON := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := errors.Join(err, notJSON, c.AddResource("offers.json", doc)); err != nil {
		panic(err) // the schema is ours
	}
	return &FriendReader{c.MustCompile("offers.json")}
}

// Read gives what a file offers, or why it does not hold in words for a terminal.
func (r *FriendReader) Read(data []byte) (Offers, error) {
	if err := bounded(data); err != nil {
		return Offers{}, err
	}
	if err := r.holds(data); err != nil {
		return Offers{}, err
	}
	var o Offers
	if err := json.Unmarshal(data, &o); err != nil {
		return Offers{}, fmt.Errorf("a value is of the wrong kind: %s", clean(err.Error()))
	}
	// encoding/json takes LOT for lot, which the schema has not seen, and a word of nothing but spaces is none once
	// cleaned: what was taken is held against it again.
	o = cleaned(o)
	again, err := o.JSON()
	if err != nil {
		return Offers{}, err
	}
	if err := r.holds(again); err != nil {
		return Offers{}, err
	}
	return o, nil
}

// bounded refuses what is too large, too deep or no UTF-8 before anything is built of it.
func bounded(data []byte) error {
	if len(data) > MaxFriendBytes {
		return fmt.Errorf("the file is larger than %d kB", MaxFriendBytes/1024)
	}
	if !utf8.Valid(data) {
		return errors.New("the file is not UTF-8")
	}
	depth, quoted, escaped := 0, false, false
	for _, c := range data {
		switch {
		case escaped:
			escaped = false
		case quoted:
			escaped, quoted = c == '\\', c != '"'
		case c == '"':
			quoted = true
		case c == '{' || c == '[':
			if depth++; depth > maxDepth {
				return fmt.Errorf("the file is nested more than %d deep", maxDepth)
			}
		case c == '}' || c == ']':
			depth--
		}
	}
	return nil
}

func (r *FriendReader) holds(data []byte) error {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		return fmt.Errorf("the file is not JSON: %s", clean(err.Error()))
	}
	err = r.schema.Validate(v)
	var bad *jsonschema.ValidationError
	switch {
	case err == nil:
		return nil
	case !errors.As(err, &bad):
		return err
	}
	for len(bad.Causes) > 0 {
		bad = bad.Causes[0]
	}
	return fmt.Errorf("the file is not an offers file: /%s does not hold", clean(strings.Join(bad.InstanceLocation, "/")))
}

// cleaned takes from the words of a file what could disturb the page around them.
func cleaned(o Offers) Offers {
	o.Journal.Title, o.Journal.Grower = clean(o.Journal.Title), clean(o.Journal.Grower)
	for i := range o.Offers {
		o.Offers[i].Taxon = clean(o.Offers[i].Taxon)
	}
	return o
}

// clean drops control characters and those that turn the direction of what follows, and shortens to 120 characters.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.In(r, unicode.Cf, unicode.Co, unicode.Cs) || r == utf8.RuneError {
			return -1
		}
		return r
	}, s)
	// Spaces last: what was dropped may have stood between two of them, or before the first.
	s = strings.Join(strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
	const most = 120
	if r := []rune(s); len(r) > most {
		s = string(r[:most-1]) + "…"
	}
	return s
}

// FriendFile is the name under friends/ of the copy of the i-th friend's offers: made of the friend's name, and, where
// several names give the same, of a hash of name and address, behind two hyphens, which no name gives.
func FriendFile(friends []journal.Friend, i int) string {
	f := friends[i]
	name, same, earlier := nameOf(f.Name), 0, 0
	for k, other := range friends {
		if nameOf(other.Name) == name {
			same++
		}
		if k < i && other.Name == f.Name && other.Offers == f.Offers {
			earlier++
		}
	}
	if same > 1 {
		sum := sha256.Sum256([]byte(f.Name + "\n" + f.Offers))
		name = fmt.Sprintf("%s--%x", name, sum[:4])
	}
	if earlier > 0 {
		name = fmt.Sprintf("%s--%d", name, earlier+1)
	}
	return name + ".json"
}

func nameOf(friend string) string { return cmp.Or(listing.Slug(friend), "friend") }

package journal

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"

	"slipleaf/build/spelling"
)

// gathered checks that a friend's file holds an offers object. It is somebody else's text: kept as it is, and read
// further by whoever shows it.
func (d *decoder) gathered(name string, data []byte) *GatheredFile {
	var offers struct {
		Journal json.RawMessage   `json:"journal"`
		Offers  []json.RawMessage `json:"offers"`
	}
	err := json.Unmarshal(data, &offers)
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	line, column, message := 1, 1, ""
	switch {
	case errors.As(err, &syntax):
		line, column = placeOf(data, min(max(int(syntax.Offset)-1, 0), len(data)))
		message = "the file is not valid JSON: " + spelling.Clip(syntax.Error())
	case errors.As(err, &kind):
		message = "the file is not an offers file: " + spelling.Clip(cmp.Or(kind.Field, "the whole")) + " is of the wrong kind"
	case err != nil || offers.Journal == nil || offers.Offers == nil:
		message = "the file is not an offers file: it needs journal and offers"
	default:
		return &GatheredFile{Name: name, Data: bytes.Clone(data)}
	}
	d.complain(ruleFriendFile, line, column, message+"; it is ignored", "run slipleaf gather to fetch it again")
	return nil
}

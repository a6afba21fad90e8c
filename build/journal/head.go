package journal

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"unicode/utf8"

	"slipleaf/build/head"
	"slipleaf/build/usual"
)

// clean checks that data is text, drops a byte order mark and makes every end of line a single \n, so that lines
// count as editors count them.
func (d *decoder) clean(data []byte) ([]byte, bool) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if bytes.IndexByte(data, '\r') >= 0 {
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		line, column := placeOf(data, i)
		d.complain(ruleEncoding, line, column, "the file holds a NUL character", "save it as UTF-8 text")
		return nil, false
	}
	if !utf8.Valid(data) {
		line, column := placeOf(data, firstInvalid(data))
		d.complain(ruleEncoding, line, column, "the file is not UTF-8 from here on", "save it as UTF-8")
		return nil, false
	}
	return data, true
}

// firstInvalid is the offset of the first byte that is not UTF-8.
func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(data)
}

// placeOf is the line and column of the character that a byte offset lies in.
func placeOf(data []byte, offset int) (line, column int) {
	for offset > 0 && offset < len(data) && !utf8.RuneStart(data[offset]) {
		offset--
	}
	before := data[:offset]
	start := bytes.LastIndexByte(before, '\n') + 1
	return bytes.Count(before, []byte("\n")) + 1, utf8.RuneCount(before[start:]) + 1
}

// split parts a Markdown file into head and body. ok is false where there is no head to read.
func (d *decoder) split(path string, data []byte) (s Source, ok bool) {
	s = Source{Path: path, Body: data, HeadLine: 1, BodyLine: 1}
	first, rest, found := bytes.Cut(data, []byte("\n"))
	if !usual.Fence(first) {
		hint := "begin it with a line of ---"
		if below, _, _ := bytes.Cut(bytes.TrimLeft(data, " \t\n"), []byte("\n")); usual.Fence(below) {
			hint = "delete the empty lines and spaces before the first ---"
		}
		d.complain(ruleNoHead, 1, 1, "the file must begin with a head: keys between two --- lines", hint)
		return s, false
	}
	s.HeadLine, s.Body, s.BodyLine = 2, nil, 2
	for at := 0; found && at <= len(rest); {
		line, _, more := bytes.Cut(rest[at:], []byte("\n"))
		if usual.Fence(line) {
			s.head, s.Body = seal(string(rest[:at])), rest[min(at+len(line)+1, len(rest)):]
			s.BodyLine = 3 + bytes.Count(rest[:at], []byte("\n"))
			return s, d.headFits(s)
		}
		if !more {
			break
		}
		at += len(line) + 1
	}
	d.complain(ruleOpenHead, 1, 1, "the head needs a closing --- line", "")
	return s, false
}

func (d *decoder) headFits(s Source) bool {
	if len(s.head.open()) <= d.limits.HeadBytes {
		return true
	}
	d.complain(ruleLimit, 1, 1, fmt.Sprintf("the head has %d bytes; the limit is %d", len(s.head.open()), d.limits.HeadBytes), "write long texts below the head")
	return false
}

// faultRules are the rules of what is wrong with a head as YAML.
var faultRules = [...]rule{head.Syntax: ruleYAML, head.Feature: ruleYAMLFeature, head.TooLarge: ruleLimit}

// readHead parses a head of a kind of file and reads it into t, a pointer to that kind's type. ok is false where nothing
// of it could be read.
func readHead(d *decoder, s Source, b *binding, t any) bool {
	text := s.head.open()
	root, faults := d.scan.Parse(text, s.HeadLine)
	for _, f := range faults {
		line, column := head.Clamp(text, s.HeadLine, f.Line, f.Column)
		d.complain(faultRules[f.Kind], line, column, f.Message, f.Hint)
	}
	if root.Shape == head.Nothing {
		if len(faults) == 0 {
			d.complain(ruleEmptyHead, 1, 1, "the head is empty; keys allowed here: "+strings.Join(b.Names(), ", "), "")
		}
		return false
	}
	if !d.mapping(&root, b, reflect.ValueOf(t).Elem()) {
		return false
	}
	if b.check != nil {
		b.check(d, &root, t)
	}
	return true
}

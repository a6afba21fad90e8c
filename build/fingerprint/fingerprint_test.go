package fingerprint

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// The SHA-256 of "abc" is the example of FIPS 180-2, appendix B.1.
func TestSumIsOfSHA256(t *testing.T) {
	const want = "ba7816bf8f01cfea414140de5dae2223"
	h := New()
	h.Write([]byte("a"))
	h.Write([]byte("bc"))
	from, err := From(strings.NewReader("abc"))
	for _, got := range []Sum{Of([]byte("abc")), h.Value(), from} {
		if fmt.Sprintf("%x", got) != want || err != nil {
			t.Errorf("%x, %v", got, err)
		}
	}
}

func TestFilesKnowNamesAndBytes(t *testing.T) {
	seen := map[Sum]bool{}
	for _, files := range []map[string]string{{}, {"a": "x"}, {"b": "x"}, {"a": "y"}, {"a": "x", "b": ""}, {"d/a": "x"}} {
		fsys := fstest.MapFS{}
		for name, text := range files {
			fsys[name] = &fstest.MapFile{Data: []byte(text)}
		}
		sum, err := Files(fsys)
		if err != nil || seen[sum] {
			t.Errorf("%v: %x, %v", files, sum, err)
		}
		seen[sum] = true
	}
}

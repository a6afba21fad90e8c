package facts

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// What is recorded is read back; a record that lost a byte is refused or holds other keys, and never runs past its end.
func TestRecordsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.Custom(func(t *rapid.T) Key {
			return Key{Kind(rapid.IntRange(0, int(kinds)-1).Draw(t, "kind")), rapid.String().Draw(t, "name"), rapid.String().Draw(t, "more")}
		})
		files := rapid.SliceOf(rapid.SliceOf(key)).Draw(t, "files")
		var r Recording
		for _, f := range files {
			r.Add(f)
		}
		got, ok := r.Done().Read()
		if !ok || len(got) != len(files) {
			t.Fatalf("%d files of %d, %v", len(got), len(files), ok)
		}
		for i := range files {
			if len(files[i])+len(got[i]) > 0 && !reflect.DeepEqual(got[i], files[i]) {
				t.Fatalf("%v, want %v", got[i], files[i])
			}
		}
		for _, whole := range []*[]byte{&r.record.Keys, &r.record.Files} {
			if n := len(*whole); n > 0 {
				cut := r.record
				if whole == &r.record.Keys {
					cut.Keys = cut.Keys[:rapid.IntRange(0, n-1).Draw(t, "cut")]
				} else {
					cut.Files = cut.Files[:rapid.IntRange(0, n-1).Draw(t, "cut")]
				}
				if all, ok := cut.Read(); ok && reflect.DeepEqual(all, got) && len(files) > 0 {
					t.Fatal("a record that was cut off reads as the whole")
				}
			}
		}
	})
}

func FuzzRecord(f *testing.F) {
	f.Add([]byte{5, 1, 'a', 0}, []byte{1, 0})
	f.Fuzz(func(t *testing.T, keys, files []byte) {
		Record{keys, files}.Read()
	})
}

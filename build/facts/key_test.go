package facts

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/fingerprint"
)

// What is recorded is read back; a record that lost a byte is refused or holds other keys, and never runs past its end.
func TestRecordsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.Custom(func(t *rapid.T) Key {
			return Key{Kind(rapid.IntRange(0, int(kinds)-1).Draw(t, "kind")), rapid.String().Draw(t, "name"), rapid.String().Draw(t, "more")}
		})
		files := rapid.SliceOf(rapid.SliceOf(key)).Draw(t, "files")
		sum := func(k Key) fingerprint.Sum { return fingerprint.Of(k.appendTo(nil)) }
		first := NewRecording(sum, nil)
		for _, f := range files {
			first.Add(f)
		}
		was := read(t, first.Done(), files, sum)
		for i, k := range was.Keys { // some facts have changed
			now := sum(k)
			if rapid.IntRange(0, 3).Draw(t, "changed") == 0 {
				now = fingerprint.Of([]byte("now"))
			}
			was.Ask(i, now)
		}
		later := func(k Key) fingerprint.Sum { return sum(Key{Kind: k.Kind, Name: k.Name + "!", More: k.More}) }
		r, want := NewRecording(later, was), map[Key]fingerprint.Sum{}
		for i, f := range files {
			if was.Stays(i) {
				r.Keep(i)
			} else {
				r.Add(f)
			}
			for _, k := range f {
				if _, there := want[k]; !there && was.Stays(i) {
					want[k] = sum(k)
				} else if !there {
					want[k] = later(k)
				}
			}
		}
		got := read(t, r.Done(), files, func(k Key) fingerprint.Sum { return want[k] })
		for _, whole := range []*[]byte{&r.record.Keys, &r.record.Sums, &r.record.Files} {
			if n := len(*whole); n > 0 {
				cut := r.record
				part := (*whole)[:rapid.IntRange(0, n-1).Draw(t, "cut")]
				switch whole {
				case &r.record.Keys:
					cut.Keys = part
				case &r.record.Sums:
					cut.Sums = part
				default:
					cut.Files = part
				}
				if m, ok := cut.Read(); ok && reflect.DeepEqual(all(m), all(got)) && len(files) > 0 {
					t.Fatal("a record that was cut off reads as the whole")
				}
			}
		}
	})
}

// read reads a record, which must be of these files and of these fingerprints.
func read(t *rapid.T, r Record, files [][]Key, sum func(Key) fingerprint.Sum) *Made {
	m, ok := r.Read()
	if !ok || m.Files() != len(files) {
		t.Fatalf("%d files of %d, %v", m.Files(), len(files), ok)
	}
	for i, got := range all(m) {
		if len(files[i])+len(got) > 0 && !reflect.DeepEqual(got, files[i]) {
			t.Fatalf("%v, want %v", got, files[i])
		}
	}
	for i, k := range m.Keys {
		if m.Sums[i] != sum(k) {
			t.Fatalf("%v has another fingerprint", k)
		}
	}
	return m
}

func all(m *Made) (out [][]Key) {
	for i := range m.Files() {
		out = append(out, m.Of(i))
	}
	return out
}

func FuzzRecord(f *testing.F) {
	f.Add([]byte{5, 1, 'a', 0}, make([]byte, 16), []byte{1, 0})
	f.Fuzz(func(t *testing.T, keys, sums, files []byte) {
		Record{keys, sums, files}.Read()
	})
}

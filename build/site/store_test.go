package site

import (
	"bytes"
	"reflect"
	"slices"
	"testing"

	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/page"
)

const stampHere = 1_700_000_000_000_000_000

func sampleStore() *store {
	return &store{Program: "p", Key: fingerprint.Of([]byte("k")), Theme: "look",
		Journal:    inventory{{Path: "journal.yaml", Size: 12, Mod: 34, Print: "young"}},
		Complaints: journal.Complaints{{File: "journal.yaml", Line: 1, Column: 2, Severity: journal.Warning, Rule: "r", Message: "m"}},
		Files:      []fileState{{Path: "index.html", Sum: "s", Size: 5, Mod: 6}},
		Folders:    []fileState{{Path: ".", Mod: 7}}, Texts: []text{{"pages/a.md", "t"}}, Refs: []page.Ref{{Scheme: "plant", Name: "x"}},
		Spare: &spare{Lacks: []string{"index.html"}, Folders: []fileState{{Path: ".", Mod: 8}}}}
}

func TestAStoreComesBack(t *testing.T) {
	data, err := sampleStore().encode(stampHere)
	if err != nil {
		t.Fatal(err)
	}
	got, err := decodeStore(data, stampHere)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.generation) != 64 {
		t.Errorf("generation %q", got.generation)
	}
	got.generation = ""
	if !reflect.DeepEqual(got, sampleStore()) {
		t.Errorf("%+v", got)
	}
}

// What was left beside another folder tells nothing of this one.
func TestAStoreOfAnotherFolderIsNoStore(t *testing.T) {
	data, err := sampleStore().encode(stampHere)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := decodeStore(data, stampHere+1); err == nil {
		t.Error("it was taken for this one's")
	}
}

// Every changed bit and every lost end is noticed.
func TestADamagedStoreIsNoStore(t *testing.T) {
	data, err := sampleStore().encode(stampHere)
	if err != nil {
		t.Fatal(err)
	}
	for i := range data {
		for bit := range 8 {
			data[i] ^= 1 << bit
			if _, err := decodeStore(data, stampHere); err == nil {
				t.Errorf("bit %d of byte %d changed unnoticed", bit, i)
			}
			data[i] ^= 1 << bit
		}
		if _, err := decodeStore(data[:i], stampHere); err == nil {
			t.Errorf("cut to %d bytes unnoticed", i)
		}
	}
}

// Whatever lies there as a store is refused, unless it is one that was written: no change of a good one, at any place and
// by any bytes, is taken for a store. (Who can write a right hash there can write the site as well.)
func FuzzStore(f *testing.F) {
	good, err := sampleStore().encode(stampHere)
	if err != nil {
		f.Fatal(err)
	}
	f.Add([]byte{1}, 100)
	f.Add([]byte(storeHead), 0)
	f.Add([]byte("0123456789abcdef"), len(storeHeadOf(0)))
	f.Fuzz(func(t *testing.T, patch []byte, at int) {
		data := bytes.Clone(good)
		at = int(uint(at) % uint(len(data)))
		data = slices.Concat(data[:at], patch, data[min(at+len(patch), len(data)):])
		s, err := decodeStore(data, stampHere)
		if (err == nil) != bytes.Equal(data, good) {
			t.Fatalf("patched at %d with %q: %v", at, patch, err)
		}
		if err == nil && len(s.Files) != 1 {
			t.Errorf("%+v", s)
		}
	})
}

package journal

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/gob"
	"encoding/hex"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"log/slog"
	"os"
	"path"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/goccy/go-yaml"
	"pgregory.net/rapid"

	"slipleaf/build/almanac"
)

// inside holds that complaints lie within their files: on a line that is there, at most one past its last character.
func inside(t *testing.T, fsys fs.FS, complaints Complaints) {
	t.Helper()
	for _, c := range complaints {
		data, err := fs.ReadFile(fsys, c.File)
		if err != nil { // a folder, or a file that is not there
			data = nil
		}
		// Columns before a fault of encoding count what a decoder makes of the bytes, so compare in the same way.
		line := []rune(lineOf(data, c.Line))
		lines := bytes.Count(bytes.ReplaceAll(bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n")), []byte("\n")) + 1
		if c.Line < 1 || c.Column < 1 || c.Line > lines || c.Column > len(line)+1 {
			t.Fatalf("%v lies outside of its file:\n%q", c, data)
		}
		if c.Message == "" || strings.ContainsAny(c.Message+c.Hint, "\n\x00\x1b") {
			t.Fatalf("%q %q", c.Message, c.Hint)
		}
	}
}

// fuzzFile reads arbitrary bytes as a file of the good journal.
func fuzzFile(f *testing.F, file string, more ...string) {
	good := os.DirFS("../../testdata/journals/good")
	bad := os.DirFS("../../testdata/journals/thirty-mistakes")
	for _, from := range []fs.FS{good, bad} {
		seeds, err := fs.Glob(from, path.Join(path.Dir(file), "*"+path.Ext(file)))
		if err != nil {
			f.Fatal(err)
		}
		for _, s := range seeds {
			data, err := fs.ReadFile(from, s)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	for _, s := range more {
		f.Add([]byte(s))
	}
	names := mustAlmanac(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		fsys := fstest.MapFS{
			"journal.yaml":         {Data: []byte("title: Bench\nregion: GB\n")},
			"tanks/trough/tank.md": {Data: []byte("---\nname: The trough\nbegan: 2026-01-10\n---\n")},
			file:                   {Data: data},
		}
		_, complaints, err := Read(t.Context(), fsys, names, Options{On: june})
		if err != nil {
			t.Fatal(err)
		}
		inside(t, fsys, complaints)
	})
}

func FuzzJournal(f *testing.F) { fuzzFile(f, "journal.yaml", "\ufefftitle: é\r\nregion: UK\r\n") }
func FuzzTank(f *testing.F)    { fuzzFile(f, "tanks/trough/tank.md") }
func FuzzEntry(f *testing.F) {
	fuzzFile(f, "tanks/trough/2026-04-18.md", "---\r\ntitle: \"é\\x\"\r\n---")
}
func FuzzPlant(f *testing.F)  { fuzzFile(f, "plants/staurogyne-repens.md") }
func FuzzParcel(f *testing.F) { fuzzFile(f, "sent/a.md") }
func FuzzPage(f *testing.F)   { fuzzFile(f, "pages/about.md") }
func FuzzFriend(f *testing.F) { fuzzFile(f, "friends/marsh.json") }

func TestComplaintsLieInsideTheirFiles(t *testing.T) {
	fsys := os.DirFS("../../testdata/journals/thirty-mistakes")
	_, complaints, err := Read(t.Context(), fsys, mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	inside(t, fsys, complaints)
}

// A journal reads the same however many read it at once, and however often.
func TestReadingDoesNotDependOnWorkers(t *testing.T) {
	names := mustAlmanac(t)
	rapid.Check(t, func(t *rapid.T) {
		fsys := madeJournal(rapid.IntRange(0, 12).Draw(t, "entries"), rapid.SampledFrom([]string{"", "x", "stems: -1", "lot: "}).Draw(t, "fault"))
		first, complaints, err := Read(context.Background(), fsys, names, Options{On: june, Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		again, same, err := Read(context.Background(), fsys, names, Options{On: june, Workers: rapid.IntRange(1, 9).Draw(t, "workers")})
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(first, again) || !reflect.DeepEqual(complaints, same) {
			t.Fatal("two readings differ")
		}
	})
}

// madeJournal makes a journal of n entries in each of two tanks; fault is written into every third.
func madeJournal(n int, fault string) fstest.MapFS {
	fsys := fstest.MapFS{"journal.yaml": {Data: []byte("title: Bench\nregion: GB\n")}}
	for _, tank := range []string{"trough", "shelf"} {
		fsys["tanks/"+tank+"/tank.md"] = &fstest.MapFile{Data: []byte("---\nname: " + tank + "\nbegan: 2000-01-01\n---\n")}
		for i := range n {
			day := june.Add(-i)
			head := fmt.Sprintf(`title: Day %d
parameters: {temperature: 24.6 C, ph: 6.7, gh: 6 dGH, kh: 4 dKH, nitrate: <5 mg/L, conductivity: 310 uS/cm}
counts:
  - {plant: heteranthera-zosterifolia, stems: %d, length: 31 cm, area: 6 dm2}
  - {plant: sagittaria-subulata, cover: 35 %%, area: 12 dm2}
trims:
  - {plant: heteranthera-zosterifolia, cuttings: 18, length: 12 cm, replanted: 6}
water-change: {share: 30 %%, with: tap}
lots:
  - {lot: %s-%d, plant: heteranthera-zosterifolia, form: cuttings, count: 12, ready: %s}
`, i, 24+i%9, tank, i, day)
			if i%3 == 0 && fault != "" {
				head += fault + "\n"
			}
			body := strings.Repeat("The stargrass reached the surface; *three* stems a hand were taken.\n\n", 6)
			fsys[fmt.Sprintf("tanks/%s/%s.md", tank, day)] = &fstest.MapFile{Data: []byte("---\n" + head + "---\n" + body)}
		}
	}
	return fsys
}

func TestProofAsJSON(t *testing.T) {
	_, complaints, err := Read(t.Context(), os.DirFS("../../testdata/journals/thirty-mistakes"), mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(complaints); err != nil {
		t.Fatal(err)
	}
	const golden = "testdata/thirty-mistakes.json"
	if *update {
		if err := os.WriteFile(golden, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), want) {
		t.Errorf("proof --json has changed; run with -update and read the difference")
	}
}

func TestNoComplaintsAreAnEmptyListInJSON(t *testing.T) {
	_, complaints, err := Read(t.Context(), madeJournal(1, ""), mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	if b, err := json.Marshal(complaints); err != nil || string(b) != "[]" {
		t.Errorf("%s, %v", b, err)
	}
}

func TestACancelledReadSaysSo(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := Read(ctx, madeJournal(3, ""), mustAlmanac(t), Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// failing is a disk of which one file cannot be read.
type failing struct {
	fs.FS
	name string
}

func (f failing) Open(name string) (fs.File, error) {
	if name == f.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return f.FS.Open(name)
}

func TestAFailingDiskIsAnError(t *testing.T) {
	for _, name := range []string{".", "tanks", "tanks/trough/tank.md", "journal.yaml"} {
		if _, _, err := Read(t.Context(), failing{madeJournal(2, ""), name}, mustAlmanac(t), Options{}); !errors.Is(err, fs.ErrPermission) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAt(t *testing.T) {
	var places Places
	s := Source{HeadLine: 2, head: seal("title: \"é\"\nlots:\n  - {lot: A-1, count: 3}\n  - lot: B-1\n    count: 4\nprivate:\n  note: x\n")}
	for _, row := range []struct {
		path               string
		line, column       int
		keyLine, keyColumn int
	}{
		{"title", 2, 8, 2, 1}, {"lots[0].count", 4, 23, 4, 16}, {"lots[1].count", 6, 12, 6, 5}, {"lots", 3, 1, 3, 1},
		{"lots[1]", 5, 5, 5, 5}, {"private", 7, 1, 7, 1}, {"private.note", 8, 9, 8, 3}, {"nowhere", 2, 1, 2, 1}, {"", 2, 1, 2, 1},
		{"lots[0].nowhere", 4, 5, 4, 5}, {"lots[9].count", 3, 1, 3, 1}, {"lots[x", 3, 1, 3, 1},
	} {
		if l, c := places.At(s, row.path); l != row.line || c != row.column {
			t.Errorf("At(%q) is %d:%d, want %d:%d", row.path, l, c, row.line, row.column)
		}
		if l, c := places.AtKey(s, row.path); l != row.keyLine || c != row.keyColumn {
			t.Errorf("AtKey(%q) is %d:%d, want %d:%d", row.path, l, c, row.keyLine, row.keyColumn)
		}
	}
}

func TestPrivateNeverLeaves(t *testing.T) {
	j, _, err := Read(t.Context(), os.DirFS("../../testdata/journals/good"), mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	parcel := j.Parcels[0]
	p := parcel.Private
	if v, ok := p.Reveal("name"); !ok || v != "Alex" {
		t.Errorf("revealed %q", v)
	}
	if _, ok := p.Reveal("phone"); ok || p.Empty() || !(Private{}).Empty() {
		t.Error("what is not said is revealed")
	}
	// Also within structs, where fmt does not ask methods, and by whoever prints a whole parcel or its source.
	hidden := struct {
		p      Private
		parcel Parcel
		source Source
	}{p, *parcel, parcel.Source}
	things := []any{p, &p, parcel, *parcel, parcel.Source, hidden, &hidden, []any{p, *parcel}, map[string]Private{"a": p}, j}
	for i, x := range things {
		for _, verb := range []string{"%v", "%+v", "%#v", "%s", "%q", "%d", "%x", "%X", "%t", "%08b"} {
			if s := fmt.Sprintf(verb, x); tells(s) {
				t.Errorf("%d: %s tells: %.200s", i, verb, s)
			}
		}
		var b, l bytes.Buffer
		slog.New(slog.NewTextHandler(&l, nil)).Info("a", "b", x)
		slog.New(slog.NewJSONHandler(&l, nil)).Info("a", "b", x)
		data, _ := json.Marshal(x)
		words, _ := xml.Marshal(x)
		lines, _ := yaml.Marshal(x)
		_ = gob.NewEncoder(&b).Encode(x)
		for _, call := range []string{`{{.}}`, `{{printf "%s" .}}`, `{{html .}}`, `{{js .}}`, `{{.Private}}`, `{{.Private.Reveal "name"}}`, `{{range $k, $v := .Private}}{{$v}}{{end}}`, `{{.head}}`, `{{.Source.head}}`, `{{.Private.values}}`} {
			_ = template.Must(template.New("").Parse(call)).Execute(&b, x)
		}
		for _, s := range []string{string(data), string(words), string(lines), b.String(), l.String()} {
			if tells(s) {
				t.Errorf("%d: told in %.200s", i, s)
			}
		}
	}
}

// tells looks for the recipient's name or address in a text: as it is, as bytes in decimal or hexadecimal, or in
// base64.
func tells(s string) bool {
	name, address := "Alex", "1 Example Road"
	decimal := strings.Trim(fmt.Sprint([]byte(address)), "[]")
	forms := []string{name, address, decimal, strings.ReplaceAll(decimal, " ", ","), hex.EncodeToString([]byte(address))}
	for shift := range 3 {
		text := base64.StdEncoding.EncodeToString([]byte(strings.Repeat(" ", shift) + address))
		forms = append(forms, text[4:len(text)-4])
	}
	return slices.ContainsFunc(forms, func(f string) bool { return strings.Contains(s, f) || strings.Contains(strings.ToLower(s), f) })
}

func BenchmarkRead(b *testing.B) {
	dir := b.TempDir()
	if err := os.CopyFS(dir, madeJournal(5000, "")); err != nil {
		b.Fatal(err)
	}
	names, err := almanac.Open()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, complaints, err := Read(context.Background(), os.DirFS(dir), names, Options{On: june}); err != nil || len(complaints) > 0 {
			b.Fatal(complaints, err)
		}
	}
}

// BenchmarkReadFilesOnly is the floor of BenchmarkRead: the same files, read and thrown away.
func BenchmarkReadFilesOnly(b *testing.B) {
	dir := b.TempDir()
	if err := os.CopyFS(dir, madeJournal(5000, "")); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		err := fs.WalkDir(os.DirFS(dir), ".", func(path string, e fs.DirEntry, err error) error {
			if err == nil && !e.IsDir() {
				_, err = os.ReadFile(dir + "/" + path)
			}
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}

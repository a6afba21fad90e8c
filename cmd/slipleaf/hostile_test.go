package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"io"
	"log"
	"math/big"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
	"unicode"
)

// moving is in every hostile word: it would clear a terminal, ring, end a line, or turn the direction of writing.
const moving = "\x1b[2J\a\u202e\u2028\u2066\u200f"

// assertStill checks that nothing which was printed moves a terminal's cursor, but for ends of lines.
func assertStill(t *testing.T, what, said string) {
	t.Helper()
	for _, r := range said {
		if r != '\n' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) {
			at := strings.IndexRune(said, r)
			t.Errorf("%s prints %U: %q", what, r, said[max(0, at-80):min(len(said), at+40)])
			return
		}
	}
}

// Words of others that a command repeats, in its complaints and its errors, are cleaned: names of folders, files, tanks, plants
// and lots, of what lies in the way of a site, of a look's files.
func TestWordsOfOthersMoveNoTerminal(t *testing.T) {
	patient(t)
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("no file has such a name there")
	}
	put := func(dir, name, text string) {
		t.Helper()
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	entry := "---\ntitle: Cut\nlots:\n  - {lot: HZ-1, plant: heteranthera-zosterifolia, form: cuttings, count: 5}\n---\n"
	all := map[string]map[string]string{
		"a tank":                    {"tanks/t" + moving + "/tank.md": "---\nname: x\nbegan: 2026-01-01\n---\n"},
		"an entry":                  {"tanks/shelf/2026-06-02" + moving + ".md": entry},
		"a record":                  {"sent/" + moving + ".md": "---\nlot: HZ-1\n---\n"},
		"a photo":                   {"photos/" + moving + ".jpg": "x", "tanks/shelf/2026-06-03.md": "---\ntitle: Seen\nphotos: [{file: \"" + moving + ".jpg\", alt: x}]\n---\n"},
		"a folder at the top":       {"tank" + moving + "/a": "x"},
		"a page":                    {"pages/a" + moving + ".md": "---\ntitle: x\n---\n"},
		"a friend's file":           {"friends/" + moving + ".json": "{"},
		"what a friend's file has":  {"friends/a.json": `{"journal":{"title":"` + strings.ReplaceAll(moving, "\x1b", `\u001b`) + `"},"as-of":"` + moving + `"}`},
		"a plant's scientific name": {"plants/x.md": "---\ntaxon: \"Planta" + moving + "\"\n---\n", "tanks/shelf/2026-06-03.md": strings.ReplaceAll(entry, "heteranthera-zosterifolia", "x")},
		"a plant that is none":      {"tanks/shelf/2026-06-03.md": "---\ntitle: Cut\ncounts:\n  - {plant: \"rotal" + moving + "\", stems: 5}\n---\n"},
		"a lot":                     {"tanks/shelf/2026-06-03.md": "---\ntitle: Cut\nlots:\n  - {lot: \"HZ" + moving + "\", plant: heteranthera-zosterifolia, form: cuttings, count: 5}\n---\n"},
		"a key":                     {"pages/about.md": "---\ntitle: x\n\"" + moving + "\": 1\n---\n"},
		"a value":                   {"pages/about.md": "---\ntitle: \"" + moving + "\"\norder: " + moving + "\n---\n"},
		"a link in a text":          {"pages/about.md": "---\ntitle: x\n---\n[a](plant:" + moving + ") ![b](" + moving + ".jpg) [c](javascript:" + moving + ")\n"},
		"a look":                    {"journal.yaml": "title: Bench\ngrower: Wren\nlook: \"" + moving + "\"\n"},
		"a look's template":         {"journal.yaml": "title: Bench\ngrower: Wren\nlook: look\n", "look/templates/home" + moving + ".html": "{{.No" + moving + "}}", "look/words/en.yaml": "\"" + moving + "\": 5\n"},
		"the journal's own":         {"journal.yaml": "title: Bench\ntimezone: \"" + moving + "\"\nregion: \"" + moving + "\"\nlanguage: \"" + moving + "\"\n"},
		"broken YAML":               {"journal.yaml": "title: [\n" + moving + "\n"},
		"a kept change":             {".undo/00000001.json": `{"what":"` + strings.ReplaceAll(strings.ReplaceAll(moving, "\x1b", `\u001b`), "\a", `\u0007`) + `","files":[{"path":"pages/` + strings.ReplaceAll(strings.ReplaceAll(moving, "\x1b", `\u001b`), "\a", `\u0007`) + `.md"}],"done":true}`},
	}
	for name, files := range all {
		dir := filepath.Join(t.TempDir(), "bench"+moving)
		if err := writeFirst(t.Context(), world{Now: time.Now}, dir, mustDay(t, "2026-06-01")); err != nil {
			t.Fatal(err)
		}
		put(dir, "tanks/shelf/2026-06-02.md", entry)
		for file, text := range files {
			put(dir, file, text)
		}
		www := filepath.Join(t.TempDir(), "www")
		for _, args := range [][]string{
			{"proof", dir, "--on", "2026-06-30"}, {"publish", dir, "--to", www, "--on", "2026-06-30"}, {"publish", dir, "--to", www, "--on", "2026-06-30", "--without-broken"},
			{"send", "Ada", "HZ-1:1", "--in", dir, "--on", "2026-06-30"}, {"send", "Ada", "HZ-2:1", "--in", dir, "--on", "2026-06-30"}, {"jot", "shel", "--in", dir, "--on", "2026-06-30"},
			{"today", dir, "--on", "2026-06-30"}, {"proof", dir, "--fix"}, {"undo", "--in", dir, "--yes"}, {"undo", "--in", dir, "--yes"},
		} {
			_, out, complaints := slipleaf(t, args...)
			assertStill(t, name+", "+args[0], out+complaints)
		}
	}
}

// What lies at the target of a publish, or beside it, is named in errors: cleaned too.
func TestNamesAtATargetMoveNoTerminal(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("no file has such a name there")
	}
	dir := filepath.Join(t.TempDir(), "bench")
	if err := writeFirst(t.Context(), world{Now: time.Now}, dir, mustDay(t, "2026-06-01")); err != nil {
		t.Fatal(err)
	}
	www := filepath.Join(t.TempDir(), "www")
	publish := func() (int, string) {
		status, out, complaints := slipleaf(t, "publish", dir, "--to", www, "--on", "2026-06-30")
		return status, out + complaints
	}
	if status, said := publish(); status != done {
		t.Fatal(said)
	}
	stray := filepath.Join(www, "stray"+moving)
	if err := os.WriteFile(stray, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if status, said := publish(); status != cannot || !strings.Contains(said, "stray") {
		t.Errorf("%d %q", status, said)
	} else {
		assertStill(t, "publish", said)
	}
}

// The names in a server's certificate are words of others.
func TestACertificateMovesNoTerminal(t *testing.T) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "mill" + moving}, Issuer: pkix.Name{CommonName: "mill" + moving},
		DNSNames: []string{"mill\x1b[2J\a.example"}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, "{}") }))
	s.TLS = &tls.Config{Certificates: []tls.Certificate{{Certificate: [][]byte{der}, PrivateKey: key}}}
	s.Config.ErrorLog = log.New(io.Discard, "", 0)
	s.StartTLS()
	t.Cleanup(s.Close)
	dir := bench(t, "Marsh", "hygrophila-difformis", "HD-0418", "Mill", s.URL)
	for _, args := range [][]string{{"gather", dir, "--private"}, {"gather", dir, "--private", "--json"}} {
		status, out, complaints := slipleaf(t, args...)
		if status != cannot || !strings.Contains(out+complaints, "certificate") {
			t.Errorf("%d %q", status, out+complaints)
		}
		assertStill(t, "gather", out+complaints)
	}
}

package page_test

import (
	"bytes"
	"strconv"
	"strings"
	"testing"
)

// mostTankside is what the page that writes entries without a network may weigh with its script and style: our choice.
const mostTankside = 60_000

// The page is there where the journal asks for it, weighs little, and is linked and listed nowhere. It says nothing that
// the site does not say.
func TestTanksidePage(t *testing.T) {
	files := copyOf(t, "../../content")
	for _, p := range []string{"name: ", "notes: "} {
		for name, f := range files {
			if strings.HasPrefix(name, "sent/") {
				f.Data = bytes.ReplaceAll(f.Data, []byte(p), []byte(p+"CANARY "))
			}
		}
	}
	b, err := bookOf(files, day(t, "2026-11-25"))
	if err != nil {
		t.Fatal(err)
	}
	weight, parts := 0, 0
	for _, o := range b.Outputs() {
		own := strings.Contains(o.Addr, "tankside")
		if !own && !strings.HasSuffix(o.Addr, "/") && !strings.HasSuffix(o.Addr, ".xml") && !strings.HasSuffix(o.Addr, "json") {
			continue
		}
		data, err := o.Make()
		switch {
		case err != nil:
			t.Fatal(o.Addr, err)
		case own:
			weight += len(data)
			parts++
			if bytes.Contains(data, []byte("CANARY")) || bytes.Contains(data, []byte("sheets/")) {
				t.Errorf("%s holds something private", o.Addr)
			}
		case bytes.Contains(data, []byte(`tankside/"`)):
			t.Errorf("%s leads to the page that nothing links to", o.Addr)
		}
	}
	if parts != 4 || weight > mostTankside {
		t.Errorf("%d files of %d bytes together, want 4 of at most %d", parts, weight, mostTankside)
	}
	t.Attr("figure", "bytes of the tankside page with script and style, demonstration: "+strconv.Itoa(weight))

	files["journal.yaml"].Data = bytes.Replace(files["journal.yaml"].Data, []byte("tankside: {}\n"), nil, 1)
	if b, err = bookOf(files, day(t, "2026-11-25")); err != nil {
		t.Fatal(err)
	}
	for _, o := range b.Outputs() {
		if strings.Contains(o.Addr, "tankside") {
			t.Errorf("%s is there unasked", o.Addr)
		}
	}
}

// The worker's name changes with the page, so that a browser which kept an older one takes the newer.
func TestTanksideWorkerChangesWithThePage(t *testing.T) {
	files := copyOf(t, "../../testdata/journals/good")
	files["journal.yaml"].Data = append(files["journal.yaml"].Data, "\ntankside: {new-file: \"https://git.example/new?filename={path}&value={text}\"}\n"...)
	worker := func() string {
		b, err := bookOf(files, day(t, "2026-06-20"))
		if err != nil {
			t.Fatal(err)
		}
		if html, err := b.Tankside(); err != nil || !bytes.Contains(html, []byte(`id="new-file"`)) {
			t.Error("the repository's page is not offered", err)
		}
		data, err := b.TanksideWorker()
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	first := worker()
	if worker() != first {
		t.Error("the same page, and another worker")
	}
	tank := files["tanks/trough/tank.md"]
	tank.Data = bytes.Replace(tank.Data, []byte("name: "), []byte("name: New "), 1)
	if worker() == first {
		t.Error("another page, and the same worker")
	}
}

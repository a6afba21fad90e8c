package journal

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// What is under private is never an excerpt, however the lines end and however the value is written.
func TestExcerptHidesWhatIsPrivate(t *testing.T) {
	for name, row := range map[string]struct{ file, text string }{
		"in one line":           {"sent/a.md", "---\nlot: A\nprivate: {name: Secret}\nhow: post\n---\nHello\n"},
		"in a block":            {"sent/a.md", "---\nlot: A\nprivate:\n  name: Secret\n\n  note: Secret\nhow: post\n---\nHello\n"},
		"old line ends":         {"sent/a.md", "---\rlot: A\rprivate: {name: Secret}\rhow: post\r---\rHello\r"},
		"with a mark":           {"sent/a.md", "\ufeff---\r\nprivate: {name: Secret}\r\nhow: post\r\n---\r\nHello\r\n"},
		"a slip of the key":     {"sent/a.md", "---\nprivte: {name: Secret}\nhow: post\n---\nHello\n"},
		"beside it":             {"sent/a.md", "---\nprivate:\nname: Secret\naddress: Secret\nhow: post\n---\nHello\n"},
		"forgotten":             {"sent/a.md", "---\nlot: A\nname: Secret\nhow: post\n---\nHello\n"},
		"in capitals, an entry": {"tanks/a/2026-01-01.md", "---\nPrivate: {note: Secret}\ntitle: \"how: post\"\n---\nHello\n"},
		"in quotes, a tank":     {"tanks/a/tank.md", "---\n\"private\": {note: Secret}\nflow: {device: how: post}\n---\nHello\n"},
		"a space too many":      {"tanks/a/tank.md", "---\nprivate : {note: Secret}\nflow: {device: how: post}\n---\nHello\n"},
		"a list as its value":   {"tanks/a/tank.md", "---\nprivate:\n- Secret\n# Secret\nflow: {device: how: post}\n---\nHello\n"},
		"another language":      {"sent/a.md", "---\nName: Secret\nhow: post\n---\nHello\n"},
	} {
		shown := ""
		for n := 0; n < 12; n++ {
			shown += Excerpt(row.file, []byte(row.text), n) + "\n"
		}
		if strings.Contains(shown, "Secret") || !strings.Contains(shown, "Hello") || !strings.Contains(shown, "how: post") {
			t.Errorf("%s: shown is %q", name, shown)
		}
	}
}

// However a file is damaged around its private part, and however that is spelt, no complaint repeats a word of it: neither in what it says nor in
// the line beside.
func TestNoComplaintTellsWhatIsPrivate(t *testing.T) {
	const record, entry, tank = "sent/a.md", "tanks/a/2026-06-01.md", "tanks/a/tank.md"
	heads := []struct{ file, text, end string }{ // in an entry or a tank the key itself is spelt so that it can be known
		{record, "lot: HZ-0418\ncount: 2\nprivate: {name: CANARYA, address: \"CANARYB, 1 Road\", note: 'CANARYC: x'}\n", "how: post\n"},
		{record, "lot: HZ-0418\ncount: 2\nprivate:\n  name: CANARYA\n  address: |\n    CANARYB\n    1 Road\n  note: \"CANARYC\"\n", "how: post\n"},
		{entry, "title: x\nPrivate: CANARYA\n", "water-change: {share: 30 %}\n"},
		{entry, "title: x\nprivte: {note: \"CANARYA\", \"CANARYB\"}\n", "water-change: {share: 30 %}\n"},
		{tank, "name: x\nPRIVATE: [CANARYA, 'CANARYB']\n", "water-depth: 3\n"},
	}
	damages := []string{"\"", "'", "[", "]", "{", "}", ":", ",", "#", "&", "*", "!", "|", ">", "-", "%", "@", "\n", "\t", " ", "`", "\x00", "\xff", ": ", "- ", "? ", "\x1b", "---\n", "<<: ", "!!int ", "a"}
	names := mustAlmanac(t)
	tried, told := 0, 0
	for _, head := range heads {
		from := strings.Index(strings.ToLower(head.text), "priv")
		if head.file != record {
			from = strings.Index(head.text, ": ") + 2
			from += strings.Index(head.text[from:], ": ") + 2
		}
		for i := from; i < len(head.text); i++ {
			damaged := []string{head.text[:i] + head.text[i+1:] + head.end}
			for _, d := range damages {
				damaged = append(damaged, head.text[:i]+d+head.text[i:]+head.end)
			}
			for _, text := range damaged {
				data := []byte("---\n" + text + "---\nWords.\n")
				_, complaints, err := Read(t.Context(), fstest.MapFS{"journal.yaml": {Data: []byte("title: A\n")}, head.file: {Data: data}}, names, Options{On: june})
				if err != nil {
					t.Fatal(err)
				}
				tried++
				for _, c := range complaints {
					told++
					if said := c.Message + "\n" + c.Hint + "\n" + Excerpt(c.File, data, c.Line); strings.Contains(said, "CANARY") {
						t.Errorf("%q: [%s] %d:%d %s", text, c.Rule, c.Line, c.Column, said)
					}
				}
			}
		}
	}
	t.Attr("figure", fmt.Sprintf("damaged records whose complaints told nothing private: %d", tried))
	if told < tried {
		t.Errorf("only %d complaints about %d records", told, tried)
	}
}

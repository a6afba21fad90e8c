package compose

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"testing"

	"pgregory.net/rapid"
)

// spoiled is a form with something else in its figures than a figure.
func spoiled(e Entry, s string) Entry {
	for i := range e.Parameters {
		e.Parameters[i].Value = s
	}
	e.Lots, e.WaterChange.Share = append(e.Lots, Lot{Lot: s, Ready: s, Rooted: "No"}), s
	e.Counts, e.Trims = append(e.Counts, Count{Plant: s}), append(e.Trims, Trim{Removed: s})
	e.StillThere = append(e.StillThere, s, "null", "")
	return e
}

// The page that writes entries without a network composes in a script: 500 drawn forms give the same text, byte for byte.
func TestTheScriptComposesTheSameText(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("node is not installed, and the checks need it")
		}
		t.Skip("node is not installed: the script's text is not held against the program's")
	}
	draw := rapid.Custom(drawn)
	forms := make([]Entry, 500)
	want := make([]string, len(forms))
	for i := range forms {
		forms[i] = draw.Example(i)
		if i%2 == 1 { // what a reader refuses is composed alike too
			forms[i] = spoiled(forms[i], typed.Example(i))
		}
		want[i] = forms[i].Text()
	}
	in, err := json.Marshal(forms)
	if err != nil {
		t.Fatal(err)
	}
	script, err := os.ReadFile("../../themes/bench/tankside/compose.js")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", string(script)+`
process.stdout.write(JSON.stringify(JSON.parse(require("fs").readFileSync(0, "utf8")).map(compose.text)))`)
	cmd.Stdin, cmd.Stderr = bytes.NewReader(in), os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	if err := json.Unmarshal(out, &got); err != nil || len(got) != len(want) {
		t.Fatal(len(got), err)
	}
	long := 0
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("form %d:\n%s\nthe script composes\n%s\nof %+v", i, want[i], got[i], forms[i])
		}
		long += len(want[i])
	}
	if long < 100*len(want) {
		t.Errorf("%d bytes of %d forms: they say too little", long, len(want))
	}
}

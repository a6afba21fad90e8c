package main

import (
	"bytes"
	"strings"
	"testing"

	"slipleaf/build/block"
)

func TestAskingFillsWhatWasNotGiven(t *testing.T) {
	given, _, err := block.Lines("temperature: 24 C; region: GB")
	if err != nil {
		t.Fatal(err)
	}
	var prompts bytes.Buffer
	// how, gh (first without its unit), kh, ph, length, width, depth, co2
	w := world{In: strings.NewReader("by hand\n8\n8 dGH\n\n7.2\n60 cm\n30 cm\n28 cm\nno\n"), Err: &prompts}
	got, err := ask(w, given)
	if err != nil {
		t.Fatal(err)
	}
	want, _, _ := block.Lines("temperature: 24 C; ph: 7.2; gh: 8 dGH; tank length: 60 cm; tank width: 30 cm; water depth: 28 cm; co2: no; region: GB; how: post")
	want.How = "by-hand"
	if got.String() != want.String() {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for _, never := range []string{"temperature?", "region?"} {
		if strings.Contains(prompts.String(), never) {
			t.Errorf("asked again for what was given: %s", never)
		}
	}
	if !strings.Contains(prompts.String(), "hardness is written 8 dGH") {
		t.Errorf("an answer without its unit was not asked again:\n%s", prompts.String())
	}
}

func TestAskingEndsWithItsInput(t *testing.T) {
	var prompts bytes.Buffer
	got, err := ask(world{In: strings.NewReader("post\n"), Err: &prompts}, block.Block{})
	if err != nil || got.How != "post" {
		t.Errorf("%+v, %v", got, err)
	}
}

package main

import (
	"strings"

	"slipleaf/build/schema"
)

type schemaCmd struct {
	Kind string `arg:"" help:"journal, tank, entry, plant, sent, page, growth, offers or sheet."`
}

// Run prints the JSON Schema of a kind of file.
func (c schemaCmd) Run(w world) error {
	text, err := schema.Write(c.Kind)
	if err != nil {
		return wrongUse("%v; see: slipleaf help", strings.TrimSuffix(err.Error(), "\n"))
	}
	_, err = w.Out.Write(text)
	return err
}

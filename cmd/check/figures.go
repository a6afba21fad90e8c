package main

import (
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
)

// figures are counts by what was counted.
type figures map[string]int

// figuresFile keeps what the runs counted, by source, so that a run of hours need not be repeated for one of minutes.
var figuresFile = filepath.Join("testdata", "figures.json")

// recorded reads the kept figures. None yet is no error.
func recorded() (map[string]figures, error) {
	kept := map[string]figures{}
	data, err := os.ReadFile(figuresFile)
	if errors.Is(err, fs.ErrNotExist) {
		return kept, nil
	}
	if err != nil {
		return nil, err
	}
	return kept, json.Unmarshal(data, &kept)
}

// record lays what a source counted over what it counted before, with -update only.
func (c *checker) record(source string, f figures) error {
	if !c.update {
		return nil
	}
	kept, err := recorded()
	if err != nil {
		return err
	}
	if kept[source] == nil {
		kept[source] = figures{}
	}
	maps.Copy(kept[source], f)
	data, err := json.MarshalIndent(kept, "", "  ") // keys come sorted
	if err != nil {
		return err
	}
	return os.WriteFile(figuresFile, append(data, '\n'), 0o644)
}

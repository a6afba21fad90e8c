package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/disk"
)

// typed reads the file of a flag, or what is typed where it is -, up to one byte more than the most it may hold. Nothing
// that could hang is opened.
func typed(w world, flag, name string, most int) ([]byte, error) {
	if name == "-" {
		if w.terminal(w.In) {
			fmt.Fprintf(w.Err, "Type or paste it here; %s ends it.\n", endKeys)
		}
		return io.ReadAll(io.LimitReader(w.In, int64(most)+1))
	}
	root, err := os.OpenRoot(filepath.Dir(name))
	if err != nil {
		return nil, wrongUse("%s: %v", flag, err)
	}
	defer root.Close()
	data, err := disk.Read(root, filepath.Base(name), int64(most))
	var at *fs.PathError
	switch {
	case errors.As(err, &at): // its path is one within the folder
		return nil, wrongUse("%s: %s: %v", flag, name, at.Err)
	case errors.Is(err, disk.ErrNotPlain):
		return nil, wrongUse("%s: %v; name the file itself, or - for what is piped in", flag, err)
	case err != nil:
		return nil, wrongUse("%s: %v", flag, err)
	}
	return data, nil
}

// askedKeys are the keys that a terminal is asked for, those that a sheet needs most.
var askedKeys = []string{"how", "region", "temperature", "gh", "kh", "ph", "tank length", "tank width", "water depth", "co2"}

// askRest asks on a terminal for what was not given; elsewhere it asks nothing.
func (c giving) askRest(w world, b block.Block) (block.Block, error) {
	if c.From == "-" || c.JSON || !w.terminal(w.In) || !w.terminal(w.Err) {
		return b, nil
	}
	return ask(w, b)
}

// ask asks for what was not given. An empty answer leaves it open.
func ask(w world, b block.Block) (block.Block, error) {
	lines := bufio.NewScanner(w.In)
	given := b.String()
	fmt.Fprintln(w.Err, "Leave blank anything you don't know.")
	for _, key := range askedKeys {
		if strings.Contains(given, "\n"+key+": ") {
			continue
		}
		for {
			fmt.Fprintf(w.Err, "%s? ", key)
			if !lines.Scan() {
				return b, lines.Err()
			}
			said, notes, err := block.Parse(strings.Replace(block.Block{}.String(), "\n", "\n"+key+": "+lines.Text()+"\n", 1))
			if err != nil {
				return b, err
			}
			if len(notes) == 0 {
				b = b.ReplaceOver(said)
				break
			}
			fmt.Fprintln(w.Err, notes[0].Text)
		}
	}
	return b, nil
}

package main

import (
	"bufio"
	"context"
	"fmt"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/spelling"
)

type undoCmd struct {
	In  string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On  string `placeholder:"DATE" help:"Treat this date as today."`
	Yes bool   `help:"Take it back without being asked."`
}

// Run shows the last change that a command or a form made, and takes it back.
func (c undoCmd) Run(ctx context.Context, w world) error {
	in, err := w.open(c.In, c.On)
	if err != nil {
		return err
	}
	defer in.close()
	if err := notDemonstration(c.In, in.dir, "--in "); err != nil {
		return err
	}
	return alone(ctx, in.dir, func(files *change.Desk) error {
		last, err := files.Last()
		if err != nil {
			return err
		}
		fmt.Fprintf(w.Out, "%s, %s\n", spelling.Clean(last.What), last.At.Local().Format("2006-01-02 15:04"))
		for _, f := range last.Files {
			fmt.Fprintf(w.Out, "  %s (%s)\n", shownPath(in.dir, f.Path), whatHappened(f))
		}
		switch {
		case c.Yes:
		case !w.terminal(w.In):
			return wrongUse("nothing was taken back; add --yes to take it back")
		default:
			if !agreed(w, "Take it back? [y/N] ") {
				return nil
			}
		}
		if err := takeBack(ctx, in, files, last); err != nil {
			return err
		}
		fmt.Fprintln(w.Out, "taken back")
		return nil
	})
}

// whatHappened says what taking a file's change back would undo.
func whatHappened(f change.File) string {
	switch {
	case f.Before == nil:
		return "new: it would go"
	case f.After == nil:
		return "removed: it would come back"
	}
	return "changed: it would be as before"
}

// agreed asks a question that only yes answers.
func agreed(w world, question string) bool {
	fmt.Fprint(w.Out, question)
	line, _ := bufio.NewReader(w.In).ReadString('\n') // no line is no yes
	answer := strings.ToLower(strings.TrimSpace(line))
	return answer == "y" || answer == "yes"
}

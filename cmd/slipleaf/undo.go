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
		ok, err := w.agreed(c.Yes, w.terminal(w.In), "Take it back?", "nothing was taken back; add --yes to take it back")
		if !ok {
			return err
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

// agreed asks a question that only yes answers, unless --yes has answered it. Where nobody can be asked, the refusal says
// what was not done, and what to add.
func (w world) agreed(yes, canAsk bool, question, refusal string) (bool, error) {
	switch {
	case yes:
		return true, nil
	case !canAsk:
		return false, wrongUse("%s", refusal)
	}
	fmt.Fprint(w.Out, question+" [y/N] ")
	line, _ := bufio.NewReader(w.In).ReadString('\n') // no line is no yes
	answer := strings.ToLower(strings.TrimSpace(line))
	return answer == "y" || answer == "yes", nil
}

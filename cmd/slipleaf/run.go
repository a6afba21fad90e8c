package main

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"slipleaf/build/journal"
	"slipleaf/build/spelling"
	"slipleaf/build/words"
)

// Exit statuses.
const (
	done        = 0
	hasErrors   = 1 // the journal has errors
	cannot      = 2 // wrong use, or a failing disk
	interrupted = 130
)

// commands is the command line, in the order in which help lists it.
type commands struct {
	Start   startCmd   `cmd:"" help:"Start a new journal with a small working example."`
	Jot     jotCmd     `cmd:"" help:"Start a diary entry, pre-filled with what is due and the last readings."`
	Desk    deskCmd    `cmd:"" help:"Write, count and publish in a browser, without a text editor."`
	Preview previewCmd `cmd:"" help:"Preview the site in a browser as you write."`
	Proof   proofCmd   `cmd:"" help:"Check the journal and list any problems."`
	Publish publishCmd `cmd:"" help:"Build the site."`
	Today   todayCmd   `cmd:"" help:"What to trim, what to send, and whom to ask for news."`
	Reserve reserveCmd `cmd:"" help:"Set plants aside for somebody; get the care-sheet link and a message."`
	Wait    waitCmd    `cmd:"" help:"Put somebody on the waiting list of a plant that has no lot for them yet."`
	Send    sendCmd    `cmd:"" help:"Record plants going out; get the care-sheet link and the label."`
	Report  reportCmd  `cmd:"" help:"Record what a recipient reports."`
	Postage postageCmd `cmd:"" help:"Note privately what somebody owes for postage, or that it is settled."`
	Cancel  cancelCmd  `cmd:"" help:"Free what somebody reserved or asked for and no longer wants."`
	Forget  forgetCmd  `cmd:"" help:"Erase somebody's name, address and notes from their records."`
	Undo    undoCmd    `cmd:"" help:"Take back the last change that a command or a form made; it is shown first."`
	Reckon  reckonCmd  `cmd:"" help:"Do one calculation, showing the working and sources."`
	Name    nameCmd    `cmd:"" help:"Which plant a name means: everyday, older or misspelt names in English and German."`
	Gather  gatherCmd  `cmd:"" help:"Fetch friends' offers (the only command that uses the network)."`
	Schema  schemaCmd  `cmd:"" help:"Print the JSON Schema for a kind of file, for editors."`
	Help    helpCmd    `cmd:"" help:"This list."`
}

// examples are the longer help of the commands that need one, by their names.
//
//go:embed help
var examples embed.FS

// journalWrong is said where nothing is written for errors that the journal has already.
var journalWrong = words.Said{Key: "said.journal-wrong", English: "nothing was written: fix the problems in the journal first"}

// errJournal says that the journal has errors, which have been shown.
var errJournal = errors.New("the journal has errors")

// useError is why a command was not done: how it was asked for, or what it would have made of the journal.
type useError struct {
	said  words.Said
	wrong journal.Complaints // of the journal; they have been shown
}

func (e useError) Error() string { return e.said.String() }

// Is tells that the journal has errors already, which has an exit status of its own.
func (e useError) Is(target error) bool {
	return target == errJournal && e.said.Key == journalWrong.Key
}

func wrongUse(format string, args ...any) error {
	return useError{said: words.Said{English: fmt.Sprintf(format, args...)}}
}

// declined is a wrong use that the desk can come to as well: english for the command line, and under key in the words for there.
func declined(key, english string, of ...any) error {
	return useError{said: words.Said{Key: key, English: english, Of: of}}
}

// run parses and runs one command line, and turns what went wrong into an exit status.
func run(ctx context.Context, args []string, w world) int {
	w.wrote = new([]string)
	status, err := obey(ctx, args, w)
	if err != nil {
		return exitStatus(ctx, err, w)
	}
	return status
}

// obey parses and runs one command line. The status is that of help.
func obey(ctx context.Context, args []string, w world) (status int, err error) {
	var c commands
	exit := false
	parser, err := kong.New(&c, kong.Name("slipleaf"), kong.Description("Turns a grower's diary into a website for giving plants away."),
		kong.Writers(w.Out, w.Err), kong.Exit(func(n int) { exit, status = true, n }), kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(w))
	if err != nil {
		return cannot, err
	}
	for _, cmd := range parser.Model.Leaves(false) {
		text, _ := examples.ReadFile("help/" + cmd.Name + ".txt") // most have none
		cmd.Detail = strings.TrimSpace(string(text))
	}
	switch {
	case clicked(w, args):
		if err := atProgram(); err != nil {
			return cannot, err
		}
		args = []string{"desk"}
	case len(args) == 0:
		args = []string{"help"}
	}
	k, err := parser.Parse(args)
	if exit { // --help has been printed
		return status, nil
	}
	if err != nil {
		return cannot, wrongUse("%s; see: slipleaf help", withPlace(err.Error(), args))
	}
	err = k.Run()
	var use useError
	if errors.As(err, &use) && slices.ContainsFunc(k.Selected().Flags, func(f *kong.Flag) bool { return f.Name == "in" }) {
		if wrong := withPlace(err.Error(), args); wrong != err.Error() {
			err = wrongUse("%s", wrong)
		}
	}
	return done, err
}

// withPlace adds to what is wrong with a command line how the journal is named, where it was given in a place of something
// else.
func withPlace(wrong string, args []string) string {
	if strings.HasPrefix(wrong+",", "unknown flag --in,") { // the flags that are spelt like it are not meant
		return "unknown flag --in; this command takes the journal without --in"
	}
	for i, a := range args {
		if _, no := os.Stat(filepath.Join(a, "journal.yaml")); no == nil && !strings.HasPrefix(args[i-min(i, 1)], "--") {
			return wrong + "; this command takes the journal as --in " + shellWord(a)
		}
	}
	return wrong
}

// cleaned is what an error says: it may hold the words of a journal, a server or a folder from elsewhere. Only an answer to
// the command line, which repeats what was typed there, has lines.
func cleaned(err error) string {
	var typed useError
	if !errors.As(err, &typed) {
		return spelling.Clean(err.Error())
	}
	lines := strings.Split(err.Error(), "\n")
	for i := range lines {
		lines[i] = spelling.Clean(lines[i])
	}
	return strings.Join(lines, "\n")
}

func exitStatus(ctx context.Context, err error, w world) int {
	switch {
	case err == nil:
		return done
	case ctx.Err() != nil:
		fmt.Fprintln(w.Err, "slipleaf:", stopped(err, w))
		return interrupted
	case errors.Is(err, errJournal):
		return hasErrors
	}
	fmt.Fprintln(w.Err, "slipleaf:", cleaned(err))
	return cannot
}

// stopped says what a command that was interrupted leaves behind.
func stopped(err error, w world) string {
	switch {
	case w.wrote != nil && len(*w.wrote) > 0:
		return "stopped; written before that: " + spelling.Clean(strings.Join(*w.wrote, ", "))
	case errors.Is(err, context.Canceled):
		return "stopped; nothing was changed"
	}
	return "stopped: " + cleaned(err)
}

type helpCmd struct{}

// Run prints the list of commands.
func (helpCmd) Run(k *kong.Context) error {
	top, err := kong.Trace(k.Kong, nil)
	if err != nil {
		return err
	}
	return top.PrintUsage(false)
}

package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/feed"
	"slipleaf/build/gather"
	"slipleaf/build/journal"
)

type gatherCmd struct {
	Dir     string `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	Plain   bool   `help:"Allow http where a friend has no https."`
	Private bool   `help:"Allow addresses on the local network."`
	JSON    bool   `name:"json" help:"Print what was done as JSON."`
}

// Run fetches every friend's offers. What fails leaves the last good copy and says so; the command fails only when
// nobody's could be had.
func (c gatherCmd) Run(ctx context.Context, w world) error {
	in, err := w.open(c.Dir, "")
	if err != nil {
		return err
	}
	defer in.close()
	dir := in.dir
	if err := notDemonstration(c.Dir, dir, ""); err != nil {
		return err
	}
	friends, err := friendsOf(ctx, w, in)
	if err != nil {
		return err
	}
	to := filepath.Join(dir, "friends")
	if info, err := os.Lstat(to); err == nil && !info.IsDir() {
		return fmt.Errorf("%s is no folder", to)
	}
	out, err := c.all(ctx, w, dir, to, friends)
	if err != nil {
		return err
	}
	return c.tell(w, out)
}

// friendsOf reads the friends of the journal's own file.
func friendsOf(ctx context.Context, w world, in folder) ([]journal.Friend, error) {
	a, err := almanac.Open()
	if err != nil {
		return nil, err
	}
	j, complaints, err := journal.Read(ctx, in.fsys, a, journal.Options{On: in.on, Zone: knownZone})
	if err != nil {
		return nil, err
	}
	if j != nil { // what is wrong elsewhere keeps nobody from gathering
		complaints = slices.DeleteFunc(complaints, func(c journal.Complaint) bool { return c.Severity != journal.Error || c.File != "journal.yaml" })
	}
	if len(complaints) > 0 {
		showAll(w.Err, in.dir, in.fsys, complaints, w.colour())
		return nil, errJournal
	}
	return j.Friends, nil
}

// all fetches the files of all friends, and writes them under the journal's lock.
func (c gatherCmd) all(ctx context.Context, w world, dir, to string, friends []journal.Friend) ([]gather.Result, error) {
	round, err := gather.New(gather.Options{Plain: c.Plain, Private: c.Private, Bytes: feed.MaxFriendBytes}).Friends(ctx, to, friends)
	if err != nil {
		return nil, err
	}
	return round.Results, alone(ctx, dir, func(files *change.Desk) error { // not before: a slow server would keep every other command waiting
		return round.Write(func(file string, data []byte) error {
			if err := files.Put("friends/"+file, data, false); err != nil || strings.HasPrefix(file, ".") {
				return err
			}
			w.note(shownPath(dir, "friends/"+file))
			return nil
		})
	})
}

// tell prints what was done.
func (c gatherCmd) tell(w world, out []gather.Result) error {
	failed := slices.DeleteFunc(slices.Clone(out), func(g gather.Result) bool { return g.Message == "" })
	if c.JSON {
		if err := w.printJSON(out); err != nil {
			return err
		}
	} else {
		if len(out) == 0 {
			fmt.Fprintln(w.Out, "no friends listed: add them under friends: in journal.yaml")
		}
		for _, g := range out {
			if g.Message == "" {
				fmt.Fprintf(w.Out, "%s: %s, %s\n", g.Friend, g.State, counted(g.Offers, "offer"))
			}
		}
	}
	for _, g := range failed {
		rest := "keeping the last good copy"
		if g.State == "missing" {
			rest = "there is no copy of it yet"
		}
		fmt.Fprintf(w.Err, "%s: not fetched: %s; %s\n", g.Friend, g.Message, rest)
	}
	if len(out) > 0 && len(failed) == len(out) {
		return errors.New("no offers could be fetched")
	}
	return nil
}

package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"slipleaf/build/reckon"
	"slipleaf/build/topic"
)

type reckonCmd struct {
	Topic string   `arg:"" optional:"" help:"The calculation; leave it out to list them all."`
	Given []string `arg:"" optional:"" name:"key=value" help:"Inputs, in any unit: kh=4dKH temperature=76F."`
	In    string   `placeholder:"DIR" help:"The journal whose own parcels the sum of a parcel is held against (default: content, or the current folder)."`
	JSON  bool     `name:"json" help:"Print the answer as JSON."`
}

// Run reckons one sum and shows its working.
func (c reckonCmd) Run(ctx context.Context, w world) error {
	if c.Topic == "" {
		return topics(w)
	}
	args, err := topic.ParseArgs(c.Given)
	if err != nil {
		return wrongUse("%s", asked(err))
	}
	var answer topic.Answer
	if c.Topic == "parcel" {
		answer, err = c.parcel(ctx, w, args)
	} else {
		answer, err = topic.Reckon(c.Topic, args)
	}
	if err != nil {
		return wrongUse("%s", asked(err))
	}
	if c.JSON {
		return w.printJSON(answer)
	}
	_, err = fmt.Fprint(w.Out, answer.Text())
	return err
}

// topics lists what can be asked.
func topics(w world) error {
	for _, t := range topic.Topics() {
		if _, err := fmt.Fprintf(w.Out, "%-14s  %s: %s\n", t.Name, t.Gives, strings.Join(t.Needs, "; ")); err != nil {
			return err
		}
	}
	return nil
}

// asked is an error with what to do about it, where that is known.
func asked(err error) string {
	var in *reckon.InputError
	if errors.As(err, &in) && in.Hint != "" && !strings.Contains(err.Error(), in.Hint) {
		return err.Error() + "\n  hint: " + in.Hint
	}
	return err.Error()
}

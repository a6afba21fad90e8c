package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"testing"
)

// "Nothing was changed" is said only where nothing was.
func TestStoppedSaysWhatIsThere(t *testing.T) {
	for _, c := range []struct {
		name  string
		err   error
		wrote []string
		want  string
	}{
		{"before anything", fmt.Errorf("reading: %w", context.Canceled), nil, "slipleaf: stopped; nothing was changed\n"},
		{"after a file", context.Canceled, []string{"sent/a.md", "sent/b\u202e.md"}, "slipleaf: stopped; written before that: sent/a.md, sent/b .md\n"},
		{"another fault", errors.New("the disk is full"), nil, "slipleaf: stopped: the disk is full\n"},
	} {
		ctx, stop := context.WithCancel(t.Context())
		stop()
		var out bytes.Buffer
		w := world{Err: &out, wrote: new([]string)}
		for _, name := range c.wrote {
			w.note(name)
		}
		if status := exitStatus(ctx, c.err, w); status != interrupted || out.String() != c.want {
			t.Errorf("%s: %d, %q", c.name, status, out.String())
		}
	}
}

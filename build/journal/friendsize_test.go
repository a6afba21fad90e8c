package journal

import (
	"strings"
	"testing"
	"testing/fstest"
)

// A friend's file that is too large is a warning: nobody else's file stops a journal.
func TestAFriendsLargeFileIsAWarning(t *testing.T) {
	fsys := fstest.MapFS{"journal.yaml": {Data: []byte("title: A\n")}, "friends/marsh.json": {Data: []byte(strings.Repeat("[", 2<<20))}}
	_, cs, err := Read(t.Context(), fsys, mustAlmanac(t), Options{On: june})
	if err != nil || len(cs) != 1 || cs[0].Severity != Warning || cs[0].Rule != "friend-file" || !strings.Contains(cs[0].Message, "1048576 bytes") || cs[0].Hint == "" {
		t.Fatal(cs, err)
	}
}

package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"

	"slipleaf/build/change"
	"slipleaf/build/disk"
	"slipleaf/build/feed"
	"slipleaf/build/gather"
	"slipleaf/build/journal"
	"slipleaf/build/spelling"
)

type gatherCmd struct {
	Dir     string `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	Plain   bool   `help:"Allow http where a friend has no https."`
	Private bool   `help:"Allow addresses on the local network."`
	JSON    bool   `name:"json" help:"Print what was done as JSON."`
}

// gathered is what became of one friend's file.
type gathered struct {
	Friend  string `json:"friend"`
	File    string `json:"file"`
	State   string `json:"state"` // fetched | unchanged | kept | missing
	Offers  int    `json:"offers"`
	Message string `json:"message,omitempty"`
}

// memory is what is known of the copies at hand. The reader of journals passes over hidden files.
const memory = ".gathered.json"

// remembered is where a copy came from, its ETag and its hash, by file. A copy of another hash was put there by
// somebody else, or by a run that was cut off before it wrote this down: its ETag says nothing.
type remembered map[string]struct {
	Address string `json:"address"`
	ETag    string `json:"etag"`
	Hash    string `json:"hash"`
}

// hashOf is the hash of a copy.
func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Run fetches every friend's offers. What fails leaves the last good copy and says so; the command fails only when
// nobody's could be had.
func (c gatherCmd) Run(ctx context.Context, w world) error {
	dir, err := journalDir(c.Dir)
	if err != nil {
		return err
	}
	friends, err := friendsOf(ctx, w, dir)
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
func friendsOf(ctx context.Context, w world, dir string) ([]journal.Friend, error) {
	fsys, closeFS, err := journalFS(dir)
	if err != nil {
		return nil, err
	}
	defer closeFS()
	a, err := openAlmanac()
	if err != nil {
		return nil, err
	}
	day, err := w.day("", fsys)
	if err != nil {
		return nil, err
	}
	j, complaints, err := journal.Read(ctx, fsys, a, journal.Options{On: day, Zone: knownZone})
	if err != nil {
		return nil, err
	}
	if j == nil {
		showComplaints(w, dir, fsys, complaints)
		return nil, errJournal
	}
	return j.Friends, nil
}

// all fetches the files of all friends, a few at a time.
func (c gatherCmd) all(ctx context.Context, w world, dir, to string, friends []journal.Friend) ([]gathered, error) {
	reader, err := feed.NewFriendReader()
	if err != nil {
		return nil, err
	}
	known := recall(to)
	client := gather.New(gather.Options{Plain: c.Plain, Private: c.Private, Bytes: feed.MaxFriendBytes})
	out, got := make([]gathered, len(friends)), make([]gather.Got, len(friends))
	g, fetching := errgroup.WithContext(ctx)
	g.SetLimit(4) // friends are few and servers small
	for i, f := range friends {
		g.Go(func() error {
			out[i] = gathered{Friend: spelling.Clean(f.Name), File: feed.FriendFile(friends, i)}
			got[i] = fetchFriend(fetching, client, reader, to, f, known, &out[i])
			return fetching.Err()
		})
	}
	if err := g.Wait(); err != nil {
		return nil, err
	}
	unlock, err := lockJournal(ctx, dir) // not before: a slow server would keep every other command waiting
	if err != nil {
		return nil, err
	}
	defer unlock()
	desk, err := change.Open(dir)
	if err != nil {
		return nil, err
	}
	defer desk.Close()
	now := remembered{}
	for i, f := range friends {
		name := out[i].File
		if out[i].State == "fetched" {
			if err := desk.Put("friends/"+name, got[i].Data, false); err != nil {
				return nil, err
			}
			w.note(shownPath(dir, "friends/"+name))
			entry := known[name]
			entry.Address, entry.ETag, entry.Hash = f.Offers, got[i].ETag, hashOf(got[i].Data)
			now[name] = entry
		} else if old, ok := known[name]; ok && old.Address == f.Offers {
			now[name] = old
		}
	}
	text, err := json.MarshalIndent(now, "", " ")
	if err != nil {
		return nil, err
	}
	return out, desk.Put("friends/"+memory, append(text, '\n'), false)
}

// fetchFriend gets one file and judges it. A copy at hand that no longer holds is not asked about by its ETag.
func fetchFriend(ctx context.Context, client *gather.Client, reader *feed.FriendReader, to string, f journal.Friend, known remembered, r *gathered) gather.Got {
	etag := ""
	held, err := ownFile(to, r.File)
	at, bad := reader.Read(held)
	have := err == nil && bad == nil
	if m := known[r.File]; have && m.Address == f.Offers && m.Hash == hashOf(held) {
		etag = m.ETag
	}
	r.State, r.Offers = "missing", len(at.Offers)
	if have {
		r.State = "kept"
	}
	got, err := client.Fetch(ctx, offersAt(f.Offers), etag)
	if err == nil && got.Unchanged {
		r.State = "unchanged"
		return got
	}
	var o feed.Offers
	if err == nil {
		o, err = reader.Read(got.Data)
	}
	if err != nil {
		r.Message = spelling.Clean(err.Error())
		return gather.Got{}
	}
	r.State, r.Offers = "fetched", len(o.Offers)
	return got
}

// offersAt is the address of a friend's offers: as it is written, or beside the front page where it is that of their site.
func offersAt(address string) string {
	u, err := url.Parse(address)
	if err != nil || strings.HasSuffix(u.Path, ".json") || u.RawQuery != "" {
		return address
	}
	u.Path = strings.TrimSuffix(u.Path, "index.html")
	return u.JoinPath("offers.json").String()
}

// recall reads the memory; one that cannot be read is forgotten.
func recall(to string) remembered {
	known := remembered{}
	text, err := ownFile(to, memory)
	if err != nil || json.Unmarshal(text, &known) != nil {
		return remembered{}
	}
	return known
}

// ownFile reads a file of the folder to, which somebody else may have filled: a plain file, no larger than a friend's may
// be and one byte.
func ownFile(to, name string) ([]byte, error) {
	root, err := os.OpenRoot(to)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return disk.Read(root, name, feed.MaxFriendBytes+1)
}

// tell prints what was done.
func (c gatherCmd) tell(w world, out []gathered) error {
	failed := slices.DeleteFunc(slices.Clone(out), func(g gathered) bool { return g.Message == "" })
	if c.JSON {
		e := json.NewEncoder(w.Out)
		e.SetIndent("", "  ")
		if err := e.Encode(out); err != nil {
			return err
		}
	} else {
		if len(out) == 0 {
			fmt.Fprintln(w.Out, "no friends listed: add them under friends: in journal.yaml")
		}
		for _, g := range out {
			if g.Message == "" {
				fmt.Fprintf(w.Out, "%s: %s, %d %s\n", g.Friend, g.State, g.Offers, plural(g.Offers, "offer"))
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

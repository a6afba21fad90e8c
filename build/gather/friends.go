package gather

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/url"
	"os"
	"strings"

	"golang.org/x/sync/errgroup"

	"slipleaf/build/disk"
	"slipleaf/build/feed"
	"slipleaf/build/journal"
	"slipleaf/build/spelling"
)

// Result is what became of one friend's file.
type Result struct {
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

// Round is what was fetched of all friends in one go, before it is written.
type Round struct {
	Results []Result
	got     []Got
	friends []journal.Friend
	known   remembered
}

// Friends fetches the offers of all friends, a few at a time. to is the folder of the copies at hand.
func (c *Client) Friends(ctx context.Context, to string, friends []journal.Friend) (*Round, error) {
	reader := feed.NewFriendReader()
	r := &Round{make([]Result, len(friends)), make([]Got, len(friends)), friends, recall(to)}
	g, fetching := errgroup.WithContext(ctx)
	g.SetLimit(4) // friends are few and servers small
	for i, f := range friends {
		g.Go(func() error {
			r.Results[i] = Result{Friend: spelling.Clean(f.Name), File: feed.FriendFile(friends, i)}
			r.got[i] = c.friend(fetching, reader, to, f, r.known, &r.Results[i])
			return fetching.Err()
		})
	}
	return r, g.Wait()
}

// Write puts the files that were fetched into the folder of friends, and what is known of all for the next time.
func (r *Round) Write(put func(file string, data []byte) error) error {
	now := remembered{}
	for i, f := range r.friends {
		name := r.Results[i].File
		if r.Results[i].State == "fetched" {
			if err := put(name, r.got[i].Data); err != nil {
				return err
			}
			entry := r.known[name]
			entry.Address, entry.ETag, entry.Hash = f.Offers, r.got[i].ETag, hashOf(r.got[i].Data)
			now[name] = entry
		} else if old, ok := r.known[name]; ok && old.Address == f.Offers {
			now[name] = old
		}
	}
	text, err := json.MarshalIndent(now, "", " ")
	if err != nil {
		return err
	}
	return put(memory, append(text, '\n'))
}

// friend gets one file and judges it. A copy at hand that no longer holds is not asked about by its ETag.
func (c *Client) friend(ctx context.Context, reader *feed.FriendReader, to string, f journal.Friend, known remembered, r *Result) Got {
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
	got, err := c.Fetch(ctx, offersAt(f.Offers), etag)
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
		return Got{}
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

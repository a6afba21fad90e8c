package desk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"slices"
	"sync"

	"slipleaf/build/page"
	"slipleaf/build/picture"
)

// photoWidth is how wide a photo is kept, in pixels: twice what pages show (our choice).
const photoWidth = 3200

// photo is a picture to be kept: upright, and its pixels alone, without the place and the camera that it came with.
type photo struct {
	id   string // of its bytes
	data []byte
	ext  string
}

// tray holds the photos that were taken in and belong to no entry yet: a form that is not saved need not send its photo
// again. It is safe for concurrent use.
type tray struct {
	one    sync.Mutex // one photo is made at a time, since a large one takes 640 MB
	mu     sync.Mutex
	photos []*photo // the newest last
}

// inTray is how many photos wait at most: some 2 MB each.
const inTray = 8

func (t *tray) put(p *photo) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.photos = append(slices.DeleteFunc(t.photos, func(x *photo) bool { return x.id == p.id }), p)
	if len(t.photos) > inTray {
		t.photos = slices.Delete(t.photos, 0, 1)
	}
}

func (t *tray) get(id string) *photo {
	t.mu.Lock()
	defer t.mu.Unlock()
	if i := slices.IndexFunc(t.photos, func(x *photo) bool { return x.id == id }); i >= 0 {
		return t.photos[i]
	}
	return nil
}

// take makes a photo of what a form sent, and keeps it until its entry is saved; nil where none was sent.
func (t *tray) take(r *http.Request) (*photo, error) {
	data, err := sentPhoto(r)
	if err != nil || data == nil {
		return nil, err
	}
	t.one.Lock()
	defer t.one.Unlock()
	p, err := newPhoto(r.Context(), data)
	if err == nil {
		t.put(p)
	}
	return p, err
}

// sentPhoto is the file of a form as it came; nil for none.
func sentPhoto(r *http.Request) ([]byte, error) {
	f, head, err := r.FormFile("photo")
	if errors.Is(err, http.ErrMissingFile) || errors.Is(err, http.ErrNotMultipart) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	switch {
	case head.Size == 0 && head.Filename == "":
		return nil, nil
	case head.Size > picture.MaxBytes:
		return nil, picture.TooManyBytes(head.Size)
	}
	return io.ReadAll(f)
}

// newPhoto makes what is kept of a picture.
func newPhoto(ctx context.Context, data []byte) (*photo, error) {
	made, err := picture.Make(ctx, data, []int{photoWidth})
	var fault *picture.Fault
	switch {
	case errors.As(err, &fault):
		return nil, fmt.Errorf("%s: %s", fault.Why, fault.Hint)
	case err != nil:
		return nil, err
	}
	sum := sha256.Sum256(made[0].Data)
	return &photo{hex.EncodeToString(sum[:16]), made[0].Data, made[0].Kind.Extension()}, nil
}

// photo takes a photo in while the rest of its form is filled in, and says what it is known by, or what is wrong with it.
func (d *Desk) photo(w http.ResponseWriter, r *http.Request, b *page.Site) {
	var said struct {
		Kept  string `json:"kept,omitempty"`
		Said  string `json:"said"`
		Fault bool   `json:"fault"`
	}
	p, err := d.tray.take(r)
	switch {
	case err != nil:
		said.Said, said.Fault = err.Error(), true
	case p == nil:
		said.Said, said.Fault = b.Locale().Text("desk.photo-none"), true
	default:
		said.Kept, said.Said = p.id, b.Locale().Text("desk.photo-kept")
		if d.Ahead != nil {
			d.Ahead(r.Context(), p.data)
		}
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(said)
}

// freeName is a name under photos/ that no file has.
func (p *photo) freeName(now fs.FS, base string) (string, error) {
	for n := 1; n < 1000; n++ {
		name := base + p.ext
		if n > 1 {
			name = fmt.Sprintf("%s-%d%s", base, n, p.ext)
		}
		_, err := fs.Stat(now, "photos/"+name)
		if errors.Is(err, fs.ErrNotExist) {
			return name, nil
		}
		if err != nil {
			return "", err
		}
	}
	return "", errors.New("the day has a thousand photos")
}

package desk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"

	"slipleaf/build/picture"
)

// photoWidth is how wide a photo is kept, in pixels: twice what pages show (our choice).
const photoWidth = 3200

// photo is a picture to be kept: upright, and its pixels alone, without the place and the camera that it came with.
type photo struct {
	data []byte
	ext  string
}

// photoOf is the photo of a form; nil where none was taken.
func photoOf(r *http.Request) (*photo, error) {
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
	data, err := io.ReadAll(f)
	if err != nil {
		return nil, err
	}
	made, err := picture.Make(r.Context(), data, []int{photoWidth})
	var fault *picture.Fault
	switch {
	case errors.As(err, &fault):
		return nil, fmt.Errorf("%s: %s", fault.Why, fault.Hint)
	case err != nil:
		return nil, err
	}
	return &photo{made[0].Data, made[0].Kind.Extension()}, nil
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

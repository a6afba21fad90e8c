package site

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
)

// A site above its bounds is refused with what it would take, what is allowed, what takes the room, and what to do.
func TestASiteHasBounds(t *testing.T) {
	content := os.DirFS("../../content")
	refused := 0
	for _, row := range []struct {
		name string
		o    Options
		want []string
	}{
		{"photos of too many bytes", Options{MaxBytes: 1 << 10}, []string{"more than 1.0 kB", "of that in photos", "fewer photos"}},
		{"too many bytes", Options{MaxBytes: 1 << 20}, []string{"more than 1.0 MB", "stopped at 1.", "years that are past"}},
		{"too many files", Options{MaxFiles: 100}, []string{"more than 100 files", "(files: 101)"}},
	} {
		row.o.On, row.o.Workers, row.o.Photos = demoDay, 1, demoPhotos()
		b, _, err := Load(context.Background(), content, row.o)
		if err == nil {
			_, err = Make(context.Background(), b, row.o)
		}
		if !errors.Is(err, ErrTooMuch) {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		refused++
		for _, want := range row.want {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %q is not in: %v", row.name, want, err)
			}
		}
	}
	demoFiles(t) // is within bounds of its own
	t.Attr("figure", fmt.Sprintf("limits shown, of a site: %d", refused))
}

func TestBytesForPeople(t *testing.T) {
	for n, want := range map[int64]string{512: "0.5 kB", 10 << 10: "10.0 kB", 3 << 19: "1.5 MB", MaxOutputBytes: "2.0 GB"} {
		if got := fmt.Sprint(sized(n)); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}

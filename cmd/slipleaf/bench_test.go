package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// From a form that is sent to pages that hold what it says, in a copy of the demonstration: words alone, and with a photo of
// twelve megapixels, which the page sends as soon as it is taken. Asked: 100 ms.
func BenchmarkSaveToServed(b *testing.B) {
	for _, with := range []string{"words", "photo"} {
		b.Run(with, func(b *testing.B) {
			at := demonstration(b)
			for n := 0; b.Loop(); n++ {
				b.StopTimer()
				form := at.form("/desk/tank/nano/")
				words := fmt.Sprintf("Words %d.", n)
				form.Set("words", words)
				if with == "photo" {
					form.Set("alt", "The tank")
					form.Set("photo-kept", at.photo(form.Get("form"), twelveMegapixels(b, n)))
				}
				b.StartTimer()
				if status, body := at.post("/desk/tank/nano/", form); status != http.StatusOK || !strings.Contains(body, "data-saved") {
					b.Fatal(status, body)
				}
				b.StopTimer()
				if _, body := at.get("/tanks/nano/2026-11-25/"); !strings.Contains(body, words) {
					b.Error("the answer came before the pages that it is about")
				}
				b.StartTimer()
			}
		})
	}
}

// demonstration opens the desk of a copy of the demonstration.
func demonstration(t testing.TB) *browser { return demonstrationIn(t, "en") }

// demonstrationIn is demonstration in a language.
func demonstrationIn(t testing.TB, language string) *browser {
	dir := filepath.Join(t.TempDir(), "journal")
	if err := os.CopyFS(dir, os.DirFS(source)); err != nil {
		t.Fatal(err)
	}
	settings := filepath.Join(dir, "journal.yaml")
	text, err := os.ReadFile(settings)
	if err == nil {
		err = os.WriteFile(settings, bytes.Replace(text, []byte("language: en\n"), []byte("language: "+language+"\n"), 1), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	addr, desk, stop := previewing(t, dir, time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC))
	t.Cleanup(func() { stop() })
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	at := &browser{t, strings.TrimSuffix(addr, "/"), dir, http.Client{Jar: jar}}
	at.get(strings.TrimPrefix(desk, at.base))
	at.get("/tanks/nano/")
	return at
}

var source, _ = filepath.Abs(filepath.Join("..", "..", "content"))

// twelveMegapixels is a picture as a phone takes it.
func twelveMegapixels(t testing.TB, n int) []byte {
	m := image.NewYCbCr(image.Rect(0, 0, 4000, 3000), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = uint8(i%4000/16 + n)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// photo sends a photo as the desk's script does, and gives what it is known by.
func (b *browser) photo(form string, data []byte) string {
	b.t.Helper()
	status, body := b.upload("/desk/photo/", url.Values{"form": {form}}, data)
	var said struct{ Kept, Said string }
	if err := json.Unmarshal([]byte(body), &said); err != nil || said.Kept == "" {
		b.t.Fatal(status, body, err)
	}
	return said.Kept
}

// upload sends a form with a photo.
func (b *browser) upload(path string, form url.Values, data []byte) (int, string) {
	b.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	for key, values := range form {
		_ = m.WriteField(key, values[0])
	}
	part, err := m.CreateFormFile("photo", "IMG_0001.JPG")
	if err == nil {
		_, err = part.Write(data)
	}
	if err := errors.Join(err, m.Close()); err != nil {
		b.t.Fatal(err)
	}
	q, err := http.NewRequest(http.MethodPost, b.base+path, &body)
	if err != nil {
		b.t.Fatal(err)
	}
	q.Header.Set("Content-Type", m.FormDataContentType())
	q.Header.Set("Origin", b.base)
	r, err := b.Do(q)
	return b.answer(r, err)
}

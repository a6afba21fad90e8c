//go:build browser

package browser

import (
	"fmt"
	"os"
	"path/filepath"
)

// fontSet names the font files that a browser may use, so that a picture is the same on every machine.
type fontSet struct {
	name  string
	files []string // patterns below /usr/share/fonts
}

var (
	// plainFonts are what a machine without any of the theme's fonts shows: wide letters, the hardest case for lines.
	plainFonts = fontSet{"plain", []string{"truetype/dejavu/DejaVuSans.ttf", "truetype/dejavu/DejaVuSans-Bold.ttf", "truetype/dejavu/DejaVuSerif*.ttf", "truetype/dejavu/DejaVuSansMono.ttf"}}
	// fineFonts are fonts of the theme's list that Debian packs: P052 and Noto Sans, with DejaVu for the rest.
	fineFonts = fontSet{"fine", []string{"opentype/urw-base35/P052-*.otf", "truetype/noto/NotoSans-Regular.ttf", "truetype/noto/NotoSans-Italic.ttf", "truetype/noto/NotoSans-Bold.ttf", "truetype/dejavu/DejaVuSans.ttf", "truetype/dejavu/DejaVuSansMono.ttf"}}
)

// config writes a fontconfig file below dir that knows only the fonts of the set, and returns its path. A pattern
// without a file says that the fonts are missing.
func (f fontSet) config(dir string) (string, error) {
	dir = filepath.Join(dir, f.name)
	folder := filepath.Join(dir, "files")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", err
	}
	for _, p := range f.files {
		found, err := filepath.Glob(filepath.Join("/usr/share/fonts", p))
		if err != nil || len(found) == 0 {
			return "", fmt.Errorf("no font %s", p)
		}
		for _, file := range found {
			link := filepath.Join(folder, filepath.Base(file))
			if err := os.Symlink(file, link); err != nil && !os.IsExist(err) {
				return "", err
			}
		}
	}
	text := `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><dir>` + folder + `</dir><cachedir>` + filepath.Join(dir, "cache") + `</cachedir>
<match target="font"><edit name="hinting" mode="assign"><bool>false</bool></edit><edit name="antialias" mode="assign"><bool>true</bool></edit><edit name="rgba" mode="assign"><const>none</const></edit></match>
</fontconfig>`
	file := filepath.Join(dir, "fonts.conf")
	return file, os.WriteFile(file, []byte(text), 0o644)
}

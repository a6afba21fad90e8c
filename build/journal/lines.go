package journal

import "strings"

// lineOf gives a line of a file, counted from 1 as complaints count: "\r\n" and "\r" end lines too, and a byte order mark
// is not part of the first. It is "" where there is no such line.
func lineOf(data []byte, n int) string {
	lines := linesOf(data)
	if n < 1 || n > len(lines) {
		return ""
	}
	return string([]rune(lines[n-1])) // a byte that is not UTF-8 counts as one character
}

func linesOf(data []byte) []string {
	text := strings.TrimPrefix(string(data), "\ufeff")
	return strings.Split(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n")
}

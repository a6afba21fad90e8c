package journal

import "testing"

func TestLineAgreesWithTheReader(t *testing.T) {
	data := []byte("\ufeffone\r\ntwo\rthree\nfour")
	for n, want := range []string{"", "one", "two", "three", "four", ""} {
		if got := lineOf(data, n); got != want {
			t.Errorf("line %d is %q, want %q", n, got, want)
		}
	}
}

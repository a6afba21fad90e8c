// Package browser holds the checks that look at the published demonstration from outside: in Chromium in several looks and
// by the keyboard alone, on paper, compared with stored pictures, and with hostile words in every field. They are tests
// with the build tag "browser" and need what cmd/check installs:
//
//	go test -tags browser ./cmd/check/browser
package browser

//go:build !long

package dynamics

// long asks for the whole simulation behind COVERAGE.md: build with the tag long.
const long = false

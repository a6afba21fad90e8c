//go:build long

package dynamics

// long asks for the whole simulation behind COVERAGE.md.
const long = true

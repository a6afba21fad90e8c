//go:build long

package site

// long asks for 500 sequences of edits, each build against a clean one.
const long = true

//go:build !long

package site

// long asks for 500 sequences of edits, each build against a clean one: build with the tag long.
const long = false

//go:build !long

package main

// long asks for more kills: build with the tag long.
const long = false

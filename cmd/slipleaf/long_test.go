//go:build long

package main

// long asks for more kills.
const long = true

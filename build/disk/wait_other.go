//go:build !unix

package disk

// noWait is not needed where files have no such kinds.
const noWait = 0

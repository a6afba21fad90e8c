// Package preview shows the site while it is being written: it watches the journal, rebuilds the open pages after
// every save, and tells the browser. It serves from memory, on this machine only.
//
// One goroutine makes editions, one after the other; a save that comes while an edition is being made cancels it. What is
// served hangs on one pointer to an immutable state, so that every answer is wholly of one edition.
package preview

//go:build unix

package disk

import "syscall"

// noWait keeps the opening of what became a pipe from waiting for its other end.
const noWait = syscall.O_NONBLOCK | syscall.O_NOCTTY

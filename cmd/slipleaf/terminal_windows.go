package main

import (
	"unsafe"

	"golang.org/x/sys/windows"
)

// endKeys end what is typed.
const endKeys = "Ctrl-Z and Enter on a line of their own"

// ownTerminal reports whether the console was opened for this program alone, as a double click does: no shell is attached
// to it (GetConsoleProcessList, Windows console documentation).
func ownTerminal() bool {
	var ids [2]uint32
	n, _, _ := windows.NewLazySystemDLL("kernel32.dll").NewProc("GetConsoleProcessList").Call(uintptr(unsafe.Pointer(&ids[0])), 2)
	return n == 1
}

package main

import (
	"fmt"
	"os"
	"strings"

	"golang.org/x/sys/unix"
)

// syncDisk writes all that lies on the disk of dir through to it.
func syncDisk(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return unix.Syncfs(int(d.Fd()))
}

// processor is how many seconds of the processors this process has had, and the system for it.
func processor() float64 {
	var u unix.Rusage
	if unix.Getrusage(unix.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// peak is the most memory that this process has held: VmHWM of proc(5), in bytes.
func peak() int64 {
	text, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(text)) {
		var kB int64
		if _, err := fmt.Sscanf(line, "VmHWM: %d kB", &kB); err == nil {
			return kB << 10
		}
	}
	return 0
}

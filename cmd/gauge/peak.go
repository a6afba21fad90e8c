package main

import (
	"os"
	"runtime/metrics"
	"strconv"
	"strings"
)

// peak is the most memory that this process has held: VmHWM of proc(5) in bytes, or where that is not to be had what
// the runtime holds of the system now.
func peak() int64 {
	text, err := os.ReadFile("/proc/self/status")
	if err == nil {
		for line := range strings.Lines(string(text)) {
			if rest, ok := strings.CutPrefix(line, "VmHWM:"); ok {
				if kb, err := strconv.ParseInt(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "kB")), 10, 64); err == nil {
					return kb << 10
				}
			}
		}
	}
	sample := []metrics.Sample{{Name: "/memory/classes/total:bytes"}}
	metrics.Read(sample)
	return int64(sample[0].Value.Uint64())
}

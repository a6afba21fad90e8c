package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"strings"
)

// vulncheck is the program that knows which published faults of modules our code reaches.
const vulncheck = "golang.org/x/vuln/cmd/govulncheck@v1.9.0"

// vulnerable looks for published faults in what the program is built from. Where the list of faults cannot be reached, it
// says so, and is no pass.
func vulnerable(ctx context.Context, c *checker) (passed, failed int, err error) {
	out, err := exec.CommandContext(ctx, "go", "run", vulncheck, "./...").CombinedOutput()
	var exit *exec.ExitError
	switch {
	case err == nil:
		return 1, 0, nil
	case errors.As(err, &exit) && bytes.Contains(out, []byte("Vulnerability #")):
		fmt.Fprintf(c.out, "%s", out)
		return 0, 1, nil
	}
	said, _, _ := strings.Cut(strings.TrimSpace(string(out)), "\n")
	return 0, 0, fmt.Errorf("govulncheck or its list of faults: %w: %s", errOutOfReach, said)
}

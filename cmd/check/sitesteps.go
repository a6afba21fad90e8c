package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// demoDay is the day for which the demonstration is made in the checks.
const demoDay = "2026-11-25"

// steps lists the checks in the order in which they run.
func steps() []step {
	return []step{
		{"install", install},
		{"gofmt", gofmt},
		{"vet", vet},
		{"staticcheck", staticcheck},
		{"modules", modules},
		{"supply", supply},
		{"tests", tests},
		{"fuzz", fuzz},
		{"publish", publish},
		{"html", html},
		{"weights", weights},
		{"contrast", contrast},
		{"browser", browser},
		{"keyboard", keyboard},
		{"elsewhere", elsewhere},
		{"print", printing},
		{"pictures", pictures},
		{"readme", readme},
		{"hostile", hostile},
		{"lighthouse", lighthouse},
		{"figures", tableOfFigures},
	}
}

func (c *checker) site() string { return filepath.Join(c.tmp, "site") }

// publish makes the demonstration twice, from scratch, and compares the two byte for byte.
func publish(ctx context.Context, c *checker) (int, int, error) {
	for _, to := range []string{c.site(), c.site() + "-again"} {
		out, err := exec.CommandContext(ctx, "go", "run", "./cmd/slipleaf", "publish", "content", "--to", to, "--on", demoDay).CombinedOutput()
		if err != nil {
			return 0, 0, fmt.Errorf("publish: %w\n%s", err, out)
		}
	}
	n, err := sameTree(c.site(), c.site()+"-again")
	if err != nil {
		return n, 0, err
	}
	return n, 0, nil
}

// ensureSite makes the demonstration for a step that was asked for alone.
func (c *checker) ensureSite(ctx context.Context) error {
	if _, err := os.Stat(c.site()); err == nil {
		return nil
	}
	_, _, err := publish(ctx, c)
	return err
}

// sameTree compares two folders and counts their files.
func sameTree(a, b string) (int, error) {
	first, err := files(a)
	if err != nil {
		return 0, err
	}
	second, err := files(b)
	if err != nil {
		return 0, err
	}
	if len(first) != len(second) {
		return 0, fmt.Errorf("%d files, then %d", len(first), len(second))
	}
	for i, name := range first {
		x, err := os.ReadFile(filepath.Join(a, name))
		if err != nil {
			return i, err
		}
		y, err := os.ReadFile(filepath.Join(b, name))
		if err != nil || !bytes.Equal(x, y) {
			return i, fmt.Errorf("%s differs between two runs", name)
		}
	}
	return len(first), nil
}

// files lists the regular files under dir, relative and sorted.
func files(dir string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		out = append(out, rel)
		return err
	})
	return out, err
}

// html runs html-validate over every page of the demonstration.
func html(ctx context.Context, c *checker) (int, int, error) {
	if err := c.ensureSite(ctx); err != nil {
		return 0, 0, err
	}
	all, err := files(c.site())
	if err != nil {
		return 0, 0, err
	}
	var pages []string
	for _, f := range all {
		if strings.HasSuffix(f, ".html") {
			pages = append(pages, filepath.Join(c.site(), f))
		}
	}
	bin, err := filepath.Abs(filepath.Join(nodeDir, "node_modules", ".bin", "html-validate"))
	if err != nil {
		return 0, 0, err
	}
	if _, err := os.Stat(bin); err != nil {
		return 0, 0, fmt.Errorf("html-validate: %w", errMissing)
	}
	config, err := filepath.Abs(filepath.Join(nodeDir, "htmlvalidate.json"))
	if err != nil {
		return 0, 0, err
	}
	report := filepath.Join(c.tmp, "html.json") // a pipe would be cut short when the program exits
	said, runErr := exec.CommandContext(ctx, bin, append([]string{"--config", config, "--formatter", "json=" + report}, pages...)...).CombinedOutput()
	out, err := os.ReadFile(report)
	if err != nil {
		return 0, 0, fmt.Errorf("html-validate: %w\n%s", runErr, tail(said, 2000))
	}
	var reports []struct {
		FilePath string
		Messages []struct {
			RuleID, Message string
			Line, Column    int
		}
	}
	if jerr := json.Unmarshal(out, &reports); jerr != nil {
		return 0, 0, fmt.Errorf("html-validate: %v: %w\n%s", runErr, jerr, tail(said, 2000))
	}
	bad := 0
	for _, r := range reports {
		if len(r.Messages) == 0 {
			continue
		}
		bad++
		rel, _ := filepath.Rel(c.site(), r.FilePath)
		for i, m := range r.Messages {
			if i < 5 && bad < 20 {
				fmt.Fprintf(c.out, "   %s:%d:%d %s (%s)\n", rel, m.Line, m.Column, m.Message, m.RuleID)
			}
		}
	}
	return len(pages) - bad, bad, nil
}

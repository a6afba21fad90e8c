package page

import (
	"encoding/json"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strings"
	"testing"

	"slipleaf/build/theme"
)

const hostFile = "../../netlify.toml"

// sent reads the header rules of netlify.toml: by path, what is sent.
func sent(t *testing.T) map[string]map[string]string {
	t.Helper()
	text, err := os.ReadFile(hostFile)
	if err != nil {
		t.Fatal(err)
	}
	rules, path := map[string]map[string]string{}, ""
	for line := range strings.Lines(string(text)) {
		key, value, ok := strings.Cut(strings.TrimSpace(line), " = ")
		value = strings.Trim(value, `"`)
		switch {
		case strings.HasPrefix(line, "["):
			path = ""
		case ok && key == "for":
			path = value
			rules[path] = map[string]string{}
		case ok && path != "":
			rules[path][key] = value
		}
	}
	return rules
}

// A page's own policy and the host's are one: what a browser enforces must not hang on where the site lies. Only the
// header can say who may frame a page (HTML Standard: frame-ancestors is ignored in a meta element).
func TestHostSendsThePolicyOfThePages(t *testing.T) {
	rules := sent(t)
	for _, row := range []struct{ path, key, want string }{
		{"/*", "Content-Security-Policy", theme.Policy + "; frame-ancestors 'none'"},
		{"/sheets/*", "Content-Security-Policy", theme.SheetPolicy + "; frame-ancestors 'none'"},
		{"/*", "X-Content-Type-Options", "nosniff"},
		{"/*", "Referrer-Policy", "strict-origin-when-cross-origin"},
		{"/*", "Permissions-Policy", "camera=(), microphone=(), geolocation=()"},
		{"/sheets/*", "Referrer-Policy", "no-referrer"},
		{"/sheets/*", "X-Robots-Tag", "noindex, nofollow, noarchive"},
		{"/sheets/*", "Cache-Control", "private, no-store"},
		{"/look/*", "Cache-Control", "public, max-age=31536000, immutable"},
		{"/photos/*", "Cache-Control", "public, max-age=31536000, immutable"},
	} {
		if got := rules[row.path][row.key]; got != row.want {
			t.Errorf("%s %s: %q, want %q", row.path, row.key, got, row.want)
		}
	}
	for path, values := range rules {
		if len(values) == 0 {
			t.Errorf("%s sends nothing: the host drops such a rule silently", path)
		}
	}
}

// What growers are told to set on a server of their own is what this host sends.
func TestHostingTellsTheSameHeaders(t *testing.T) {
	text, err := os.ReadFile("../../content/pages/hosting.md")
	if err != nil {
		t.Fatal(err)
	}
	for path, values := range sent(t) {
		for key, value := range values {
			if !strings.Contains(string(text), "\n    "+key+": "+value+"\n") {
				t.Errorf("content/pages/hosting.md does not tell %s: %s, which %s gets", key, value, path)
			}
		}
		if !strings.Contains(string(text), "`"+path+"`") {
			t.Errorf("content/pages/hosting.md does not speak of %s", path)
		}
	}
}

// A copy for looking at a change keeps the site's own address: nothing of the build reads where it runs.
func TestPreviewsKeepTheAddress(t *testing.T) {
	text, err := os.ReadFile(hostFile)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"DEPLOY_PRIME_URL", "DEPLOY_URL", "$URL"} {
		if strings.Contains(string(text), name) {
			t.Errorf("a copy would name itself in feeds and links: %s", name)
		}
	}
	for _, context := range []string{"[context.deploy-preview]", "[context.branch-deploy]"} {
		_, after, ok := strings.Cut(string(text), context)
		line, _, _ := strings.Cut(strings.TrimSpace(after), "\n")
		if !ok || !strings.Contains(line, "go run ./cmd/slipleaf publish && printf") || !strings.Contains(line, "X-Robots-Tag: noindex, nofollow, noarchive") || !strings.Contains(line, "> www/_headers") {
			t.Errorf("%s does not keep search engines away: %s", context, line)
		}
	}
}

func TestHostBuildsWithTheGoOfTheModule(t *testing.T) {
	mod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(mod), "\ngo ")
	version, _, _ := strings.Cut(after, "\n")
	version = strings.TrimSuffix(version, ".0") // the module asks for no patch release; the host takes a whole version
	text, err := os.ReadFile(hostFile)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`GO_VERSION = "` + version, `publish = "www"`, `command = "go run ./cmd/slipleaf publish"`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s lacks %s", hostFile, want)
		}
	}
}

// The file is TOML, with the keys that the host knows and no other: it ignores a misspelt one silently.
func TestHostFileIsTOML(t *testing.T) {
	cmd := exec.CommandContext(t.Context(), "/usr/bin/python3", "-c", "import json, sys, tomllib; print(json.dumps(tomllib.load(sys.stdin.buffer)))")
	in, err := os.Open(hostFile)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	cmd.Stdin = in
	out, err := cmd.Output()
	if err != nil {
		if os.Getenv("SLIPLEAF_CHECK") != "" || runtime.GOOS == "linux" && exec.Command("/usr/bin/python3", "-c", "import tomllib").Run() == nil {
			t.Fatalf("not TOML: %v", err)
		}
		t.Skip("python3 with tomllib is not installed; go run ./cmd/check installs it")
	}
	var doc map[string]any
	if err := json.Unmarshal(out, &doc); err != nil {
		t.Fatal(err)
	}
	known := map[string][]string{"": {"build", "context", "headers", "redirects"}, "build": {"command", "publish", "environment"},
		"headers": {"for", "values"}, "redirects": {"from", "to", "status"}}
	check := func(name string, v any) {
		for key := range v.(map[string]any) {
			if !slices.Contains(known[name], key) {
				t.Errorf("the host knows no %s.%s", name, key)
			}
		}
	}
	check("", doc)
	check("build", doc["build"])
	for _, list := range []string{"headers", "redirects"} {
		for _, v := range doc[list].([]any) {
			check(list, v)
		}
	}
	for name, c := range doc["context"].(map[string]any) {
		if cmd, _ := c.(map[string]any)["command"].(string); !strings.Contains(cmd, "noindex") {
			t.Errorf("pages of a %s may be found by search engines: %q", name, cmd)
		}
	}
}

package lexer

import "testing"

// Every language reads a text of its own, and those that hold another find it.
func TestLanguagesRead(t *testing.T) {
	known := New()
	for name, text := range map[string]string{
		"yaml": "ph: 6.7 # x\n", "json": "{\"a\": 1}", "bash": "echo $HOME\n", "sh": "ls", "html": "<p><script>var a = 1</script><style>p { top: 0 }</style>", "css": "p { top: 0 }", "javascript": "var a = 1",
		"js": "1", "csv": "a,b\n1,2\n", "diff": "+a\n b\n", "ini": "[a]\nb=c\n", "toml": "a = 1\n", "python": "def f(): pass\n", "r": "x <- 1\n", "sql": "select 1;\n", "xml": "<a b='c'/>",
	} {
		lexer := known[name]
		if lexer == nil {
			t.Errorf("no %s", name)
			continue
		}
		tokens, err := lexer.Tokenise(nil, text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		kinds := map[string]bool{}
		for _, token := range tokens.Tokens() {
			kinds[token.Type.String()] = true
		}
		if len(kinds) < 2 && name != "js" && name != "sh" || kinds["Error"] {
			t.Errorf("%s: %v", name, kinds)
		}
	}
	if known["growth.txt"] != nil {
		t.Error("a file's name is taken for a language")
	}
}

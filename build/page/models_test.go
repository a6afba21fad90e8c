package page_test

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/printer"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"slipleaf/themes"
)

const modelList = "../../themes/bench/MODELS.md"

const modelListHead = `# Templates and their models

Made by ` + "`go test ./build/page -update`" + `. “all of Frame” means that the model has the fields of Frame too. template.HTML is finished markup; other text is
escaped where it is placed. An empty text or list means that there is nothing to say: leave its heading out.
`

// The theme's list of templates and their models is made from the code, so that it cannot go stale.
func TestThemeListsEveryModel(t *testing.T) {
	models := modelsOf(t)
	names, err := fs.Glob(themes.Bench(), "templates/*.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		kind := strings.TrimSuffix(strings.TrimPrefix(name, "templates/"), ".html")
		if _, ok := models[kind]; !ok && !strings.HasPrefix(kind, "part-") {
			t.Errorf("no page is made by %s", name)
		}
	}
	want := modelListHead + listing(t, models)
	if *update {
		if err := os.WriteFile(modelList, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := os.ReadFile(modelList); err != nil || string(got) != want {
		t.Errorf("%s is stale (%v): go test ./build/page -update", modelList, err)
	}
}

// listing writes each template with its model, then every type that a model is made of, each once.
func listing(t *testing.T, models map[string]string) string {
	t.Helper()
	types := structs(t)
	var b strings.Builder
	todo := []string{}
	b.WriteString("\n| template | its model |\n|---|---|\n")
	for _, kind := range slices.Sorted(maps.Keys(models)) {
		fmt.Fprintf(&b, "| `%s.html` | `%s` |\n", kind, models[kind])
		todo = append(todo, models[kind])
	}
	listed := map[string]bool{}
	for len(todo) > 0 {
		name := todo[0]
		todo = todo[1:]
		s, ok := types[name]
		if !ok || listed[name] {
			continue
		}
		listed[name] = true
		fmt.Fprintf(&b, "\n**%s**%s\n\n", name, s.about)
		for _, f := range s.fields {
			b.WriteString("- `" + f.name + " " + f.kind + "`" + f.about + "\n")
			todo = append(todo, strings.TrimLeft(f.kind, "[]*"))
		}
	}
	return b.String()
}

type structType struct {
	about  string
	fields []structField
}

type structField struct{ name, kind, about string }

// structs reads the exported struct types of the packages that fill models with their comments.
func structs(t *testing.T) map[string]structType {
	t.Helper()
	out := map[string]structType{}
	fset := token.NewFileSet()
	for _, name := range sources(t) {
		file, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok {
				continue
			}
			for _, spec := range g.Specs {
				ts, ok := spec.(*ast.TypeSpec)
				if !ok || !ts.Name.IsExported() {
					continue
				}
				if st, ok := ts.Type.(*ast.StructType); ok {
					out[ts.Name.Name] = structType{about(ts.Name.Name, g.Doc), fieldsOf(t, fset, st)}
				}
			}
		}
	}
	return out
}

// ofOurs is what a type of another of our packages begins with.
var ofOurs = regexp.MustCompile(`\b(page|papers|plot|sharing|suit|theme|words|review|keys|tankform)\.`)

func fieldsOf(t *testing.T, fset *token.FileSet, st *ast.StructType) []structField {
	t.Helper()
	var out []structField
	for _, f := range st.Fields.List {
		var b bytes.Buffer
		if err := printer.Fprint(&b, fset, f.Type); err != nil {
			t.Fatal(err)
		}
		kind := ofOurs.ReplaceAllString(b.String(), "")
		remark := f.Comment
		if remark == nil {
			remark = f.Doc
		}
		said := strings.TrimSpace(strings.ReplaceAll(remark.Text(), "\n", " "))
		if said != "" {
			said = ": " + said
		}
		var names []string
		for _, n := range f.Names {
			if n.IsExported() {
				names = append(names, n.Name)
			}
		}
		if len(f.Names) == 0 {
			said = ": its fields are the model’s own"
			out = append(out, structField{"all of", kind, said})
			continue
		}
		if len(names) > 0 {
			out = append(out, structField{strings.Join(names, ", "), kind, said})
		}
	}
	return out
}

// about is a type's comment without its name, as what follows the name in the list.
func about(name string, doc *ast.CommentGroup) string {
	text := strings.TrimSpace(strings.ReplaceAll(doc.Text(), "\n", " "))
	text = strings.TrimPrefix(text, name)
	if text == "" {
		return ""
	}
	return text
}

package theme

import (
	"fmt"
	"reflect"
	"strings"
)

// explain adds to a template's error what the type at fault holds: the model's own type, or the one within it that
// the error names.
func explain(err error, kind string, model any) error {
	if model == nil {
		return err
	}
	at := reflect.TypeOf(model)
	if _, name, ok := strings.Cut(err.Error(), "in type "); ok {
		if t := typeNamed(at, strings.TrimLeft(name, "*"), map[reflect.Type]bool{}); t != nil {
			at = t
		}
	}
	return fmt.Errorf("%w (the model of %s is %T; %s has %s)", err, kind, model, at, strings.Join(fieldsIn(at), ", "))
}

// typeNamed finds the type of that name among t and what it is made of; nil if there is none.
func typeNamed(t reflect.Type, name string, seen map[reflect.Type]bool) reflect.Type {
	for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || seen[t] {
		return nil
	}
	seen[t] = true
	if t.String() == name {
		return t
	}
	for i := range t.NumField() {
		if found := typeNamed(t.Field(i).Type, name, seen); found != nil {
			return found
		}
	}
	return nil
}

// fieldsIn lists what a template can name of t.
func fieldsIn(t reflect.Type) []string {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct {
		return []string{"no fields"}
	}
	var names []string
	for _, f := range reflect.VisibleFields(t) {
		if f.IsExported() && !f.Anonymous {
			names = append(names, f.Name)
		}
	}
	return names
}

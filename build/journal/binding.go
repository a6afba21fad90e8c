package journal

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode"

	"slipleaf/build/almanac"
	"slipleaf/build/format"
	"slipleaf/build/head"
)

// binding ties a mapping of the format to the Go type that it is read into.
type binding struct {
	format.Mapping
	typ    reflect.Type
	fields [][]int                                   // of each key, where its value goes; nil: into the same value, as the keys of post do
	parts  []*binding                                // of each key, its part; nil for other values
	check  func(d *decoder, n *head.Node, value any) // of what the keys say together; nil: nothing to look at
}

func on[T any](name string, check func(d *decoder, n *head.Node, t *T)) *binding {
	m, ok := format.Find(name)
	if !ok {
		panic("the format has no " + name)
	}
	b := &binding{Mapping: m, typ: reflect.TypeFor[T]()}
	if check != nil {
		b.check = func(d *decoder, n *head.Node, value any) { check(d, n, value.(*T)) }
	}
	return b
}

// bindings are those of all mappings, by name. A key of the format without a place in its type is a fault of the
// program, and found by every test.
var bindings = tied(
	on("journal", checkJournal), on[Journal]("journal.sheet", nil), on[Journal]("journal.post", nil), on("friend", checkFriend), on[Tankside]("tankside", nil),
	on[TrimWhen]("trim-when", nil), on("tank", checkTank), on[Inside]("inside", nil), on[Layer]("layer", nil), on("lamp", checkLamp),
	on[Tristate]("co2", nil), on[Flow]("flow", nil), on[Livestock]("livestock", nil), on[Parameters]("parameters", nil),
	on[Entry]("entry", nil), on("count", checkCount), on("planting", checkPlanting), on("trim", checkTrim), on("loss", checkLoss),
	on("dose", checkDose), on[WaterChange]("water-change", nil), on("lot", checkLot), on("photo", checkPhoto), on[Where]("where", nil),
	on("sent", checkParcel), on("item", checkItem), on("report", checkReport), on[Recipient]("recipient", nil),
	on[Plant]("plant", nil), on[almanac.Profile]("profile", nil), on("page", checkPage),
)

func tied(all ...*binding) map[string]*binding {
	out := make(map[string]*binding, len(all))
	for _, b := range all {
		out[b.Name] = b
	}
	for _, b := range all {
		var places []reflect.StructField
		if b.typ.Kind() == reflect.Struct {
			places = reflect.VisibleFields(b.typ)
		}
		for _, k := range b.Keys {
			index := place(places, k)
			b.fields, b.parts = append(b.fields, index), append(b.parts, out[k.Is.Part])
			if k.Is.Kind == format.Part && out[k.Is.Part] == nil || index == nil && k.Is.Kind != format.Part && b.typ.Kind() == reflect.Struct {
				panic(fmt.Sprintf("%s: no place for %s in %s", b.Name, k.Name, b.typ))
			}
		}
	}
	return out
}

// place finds the field of a key: the one tagged with it, or named as it.
func place(all []reflect.StructField, k format.Key) []int {
	i := slices.IndexFunc(all, func(f reflect.StructField) bool { return f.Tag.Get("key") == k.Name })
	if i < 0 {
		i = slices.IndexFunc(all, func(f reflect.StructField) bool { return f.Tag == "" && hyphened(f.Name) == k.Name })
	}
	if i < 0 {
		return nil
	}
	return all[i].Index
}

// hyphened is a Go name as a key: AboveWater is above-water, PH is ph.
func hyphened(name string) string {
	var b strings.Builder
	lower := false
	for _, r := range name {
		if unicode.IsUpper(r) && lower {
			b.WriteByte('-')
		}
		lower = unicode.IsLower(r)
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// at is the place of a key's value within to.
func (b *binding) at(i int, to reflect.Value) reflect.Value {
	if b.fields[i] == nil {
		return to
	}
	return to.FieldByIndex(b.fields[i])
}

// index finds a key; -1 if there is none.
func (b *binding) index(key string) int {
	for i := range b.Keys {
		if b.Keys[i].Name == key {
			return i
		}
	}
	return -1
}

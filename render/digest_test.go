package render_test

import (
	"reflect"
	"testing"

	"ringout/render"
)

// TestDigest changes every field of a page with one mark of each kind, one at a
// time: the digest has to change each time, or --changed would leave a sheet as
// it was. A field that is added to a mark is found by itself.
func TestDigest(t *testing.T) {
	t.Parallel()
	page := func() *render.Page {
		q := render.Point{X: 1000, Y: 2000}
		return &render.Page{Head: render.Head{Name: "n", Title: "t", W: 1, H: 2}, Items: []render.Item{
			&render.Line{Points: []render.Point{q, q}}, &render.Circle{}, &render.Curve{}, &render.Text{S: "s"}, &render.Link{Page: "p"}, &render.Modules{Black: [][]bool{{false}}},
			&render.Group{ID: "g", Data: []render.Datum{{Key: "k", Value: "v"}}, Items: []render.Item{&render.Circle{R: 5}}},
		}}
	}
	if page().Digest() != page().Digest() {
		t.Fatal("two pages alike have two digests")
	}
	seen := map[[32]byte]string{page().Digest(): "the page as it was"}
	fields := 0
	for {
		p, left, changed := page(), fields, ""
		change(reflect.ValueOf(p).Elem(), "page", &left, &changed)
		if changed == "" {
			break
		}
		if was, twice := seen[p.Digest()]; twice {
			t.Errorf("with %s changed the digest is that of %s", changed, was)
		}
		seen[p.Digest()] = changed
		fields++
	}
	if fields < 40 {
		t.Errorf("only %d fields were changed", fields)
	}
}

// change changes field number left below v.
func change(v reflect.Value, name string, left *int, changed *string) {
	if *changed != "" {
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			change(v.Field(i), name+"."+v.Type().Field(i).Name, left, changed)
		}
		return
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			change(v.Index(i), name, left, changed)
		}
		return
	case reflect.Pointer, reflect.Interface:
		change(v.Elem(), name+" "+v.Elem().Type().String(), left, changed)
		return
	}
	if *left--; *left >= 0 {
		return
	}
	*changed = name
	switch {
	case v.Kind() == reflect.String:
		v.SetString(v.String() + "x")
	case v.Kind() == reflect.Bool:
		v.SetBool(true)
	case v.CanUint():
		v.SetUint(v.Uint() + 1)
	default:
		v.SetInt(v.Int() + 1)
	}
}

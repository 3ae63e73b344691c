package render

import (
	"fmt"
	"unicode"
	"unicode/utf8"

	"ringout/fonts"
)

// Check returns an error for the first mark that cannot be written down: a text
// with a rune its face lacks or without a width, an outline without enough
// points, a size of zero or less, a name that is no file name. Writers call it
// before the first byte, so that a refused page leaves nothing behind.
func (p *Page) Check() error {
	if err := p.Head.Check(); err != nil {
		return err
	}
	if err := checkItems(p.Items); err != nil {
		return fmt.Errorf("page %q: %w", p.Name, err)
	}
	return nil
}

// Check returns an error when the name cannot be a file name, the title cannot
// be an outline entry, or the size is not positive.
func (h *Head) Check() error {
	switch {
	case !isFileName(h.Name):
		return fmt.Errorf("page name %q cannot be a file name", h.Name)
	case !plain(h.Title):
		return fmt.Errorf("page %q: title %q has characters that cannot be written", h.Name, h.Title)
	case h.W <= 0 || h.H <= 0:
		return fmt.Errorf("page %q: size %d x %d is not positive", h.Name, h.W, h.H)
	}
	return nil
}

func checkItems(items []Item) error {
	for i, item := range items {
		var err error
		switch m := item.(type) {
		case *Line:
			if len(m.Points) < 2 || m.Closed && len(m.Points) < 3 {
				err = fmt.Errorf("line has %d points", len(m.Points))
			} else {
				err = checkStyle(m.Pen, m.Fill)
			}
		case *Circle:
			if m.R <= 0 {
				err = fmt.Errorf("circle at %v: radius %d is not positive", m.Centre, m.R)
			} else {
				err = checkStyle(m.Pen, m.Fill)
			}
		case *Curve:
			err = checkStyle(m.Pen, Hollow)
		case *Text:
			err = checkText(m)
		case *Modules:
			err = checkModules(m)
		case *Link:
			if !isFileName(m.Page) {
				err = fmt.Errorf("link at %v: page name %q cannot be a file name", m.Min, m.Page)
			} else if m.Min.X >= m.Max.X || m.Min.Y >= m.Max.Y {
				err = fmt.Errorf("link at %v: area is empty", m.Min)
			}
		case *Group:
			if err = checkGroup(m); err == nil {
				err = checkItems(m.Items)
			}
		default:
			err = fmt.Errorf("mark %d is %T", i, item)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func checkStyle(pen Pen, fill Fill) error {
	if pen >= penCount {
		return fmt.Errorf("pen %d is not in the set", uint8(pen))
	}
	if int(fill) >= len(fillNames) {
		return fmt.Errorf("fill %d is not in the set", uint8(fill))
	}
	return nil
}

func checkModules(m *Modules) error {
	if m.Size <= 0 || len(m.Black) == 0 {
		return fmt.Errorf("modules at %v: %d rows of size %d", m.At, len(m.Black), m.Size)
	}
	for _, row := range m.Black {
		if len(row) != len(m.Black) {
			return fmt.Errorf("modules at %v: a row of %d among %d rows", m.At, len(row), len(m.Black))
		}
	}
	return nil
}

func checkText(t *Text) error {
	switch {
	case t.Face >= fonts.Count:
		return fmt.Errorf("text %q at %v: face %d is not in the set", t.S, t.At, uint8(t.Face))
	case int(t.Align) >= len(alignNames):
		return fmt.Errorf("text %q at %v: alignment %d is not in the set", t.S, t.At, uint8(t.Align))
	case t.Height <= 0:
		return fmt.Errorf("text %q at %v: height %d is not positive", t.S, t.At, t.Height)
	case t.S != "" && t.Width <= 0:
		return fmt.Errorf("text %q at %v: width is not measured", t.S, t.At)
	case t.Narrow < 0:
		return fmt.Errorf("text %q at %v: narrowed to %d per cent", t.S, t.At, t.Narrow)
	}
	if r, missing := t.Face.Missing(t.S); missing {
		return fmt.Errorf("text %q at %v: face %v cannot draw %q", t.S, t.At, t.Face, r)
	}
	return nil
}

func checkGroup(g *Group) error {
	if !plain(g.ID) {
		return fmt.Errorf("group id %q has characters that cannot be written", g.ID)
	}
	for _, d := range g.Data {
		if !attribute(d.Key) {
			return fmt.Errorf("group %q: data key %q is not lower-case letters, digits and hyphens", g.ID, d.Key)
		}
		if !plain(d.Value) {
			return fmt.Errorf("group %q: data value %q has characters that cannot be written", g.ID, d.Value)
		}
	}
	return nil
}

// plain reports whether s is printable text of the basic plane, which is what
// XML attributes and PDF outlines can both carry.
func plain(s string) bool {
	for _, r := range s {
		if ' ' <= r && r <= '~' {
			continue // nearly all; quicker than looking it up
		}
		if r == utf8.RuneError || r > 0xFFFF || !unicode.IsGraphic(r) {
			return false
		}
	}
	return true
}

// attribute reports whether key can follow data- in the name of an attribute.
func attribute(key string) bool {
	for i, r := range key {
		letter := 'a' <= r && r <= 'z'
		if !letter && (i == 0 || r != '-' && (r < '0' || r > '9')) {
			return false
		}
	}
	return key != ""
}

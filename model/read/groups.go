package read

import (
	"slices"
	"strings"

	"ringout/model"
	"ringout/model/bind"
	"ringout/model/finding"
)

// This file reads the coils and contacts of devices that have several.

// groups gives a device its coils and contacts: those that the plant gives, else those of
// its kind.
func (r *plantReader) groups(d *writtenDevice) {
	for _, of := range []struct {
		given  *node
		others string
		coils  bool
	}{{d.coils, d.Kind.Coils, true}, {d.contacts, d.Kind.Contacts, false}} {
		if of.given == nil || of.others == "" && !d.Kind.Ports {
			for _, words := range strings.Split(of.others, ", ") {
				if g := groupOf(strings.Fields(words), of.coils); g != nil {
					r.group(d.Part, g, strings.Split(lastWord(words), "-"), d.Pos)
				}
			}
			continue
		}
		for _, item := range r.list(*of.given, strings.TrimSuffix(of.given.what, "s")) {
			words := strings.Fields(r.text(item))
			if len(words) == 0 {
				continue
			}
			g := groupOf(words, of.coils)
			if g == nil {
				r.Report(badGroup(item, of.coils))
				continue
			}
			r.group(d.Part, g, strings.Split(words[len(words)-1], "-"), item.pos())
		}
	}
}

// sameTerminals reports terminals that are not those of the coils and contacts, in whatever
// order.
func (r *plantReader) sameTerminals(d *writtenDevice) {
	named := map[string]bool{}
	for _, w := range r.words(*d.terminals) {
		named[w.Text] = true
	}
	same := len(named) == len(d.Terminals)
	for _, t := range d.Terminals {
		same = same && named[t.Name]
	}
	if !same {
		r.Report(d.terminals.wrong(finding.TerminalsMismatch, "the coils, contacts and supply of %s have the terminals %s", d.Tag, strings.Join(model.Spans(d.Terminals), " ")).
			WithHint(finding.Do("name them in coils and contacts")))
	}
}

func lastWord(words string) string { return words[strings.LastIndexByte(words, ' ')+1:] }

// groupOf is a coil or contact of words such as run 13-14, without its terminals; nil of
// others.
func groupOf(words []string, coil bool) *model.Group {
	if len(words) == 0 {
		return nil
	}
	names, g := words[:len(words)-1], &model.Group{}
	numbers := strings.Split(words[len(words)-1], "-")
	want := 2
	if !coil {
		g.Contact = model.ContactByNumbers(numbers)
		if n := len(names); n > 0 && slices.Contains(model.ContactWords, names[n-1]) {
			g.Contact, names = model.ContactKind(slices.Index(model.ContactWords, names[n-1])+1), names[:n-1]
		}
		if g.Contact == model.Changeover {
			want = 3
		}
	}
	if g.Name = strings.Join(names, " "); len(numbers) != want || !coil && g.Contact == 0 {
		return nil
	}
	for _, n := range numbers {
		if n == "" || strings.ContainsAny(n, ",>:") {
			return nil
		}
	}
	return g
}

func badGroup(n node, coil bool) finding.Finding {
	if coil {
		return n.wrong(finding.BadContact, "coil %s is not two terminals", finding.Quote(n.Value)).WithHint(finding.Do("give its two terminals, with a hyphen between, the + first"))
	}
	return n.wrong(finding.BadContact, "contact %s is numbered as none of EN 50005", finding.Quote(n.Value)).
		WithHint(finding.Do("number it n3-n4 (make), n1-n2 (break) or n1-n2-n4 (changeover); or put make, break or changeover before its terminals"))
}

// group gives a device one coil or contact with its terminals.
func (r *plantReader) group(p *model.Part, g *model.Group, names []string, pos finding.Pos) {
	for i, name := range names {
		t := &model.Terminal{Name: name, Group: g}
		if g.Contact == 0 {
			t.Role = model.Marking(g.Serves().Roles[i])
		}
		if !p.AddTerminal(t) {
			r.Report(bind.Token{Text: name, Pos: pos}.Wrong(finding.TerminalTwice, "%s has terminal %s twice", p.Tag, name))
			return
		}
		g.Terminals = append(g.Terminals, t)
	}
	g.By = model.WorkerOf(p.Kind, g)
	p.Device.Groups = append(p.Device.Groups, g)
}

// ratedVolts reads what a coil is made for.
func (r *plantReader) ratedVolts(n node, d *model.Device) {
	v, u := r.quantity(n, supplyUnits...)
	d.Rated, d.RatedDC = r.something(n, v, u), u == "DC"
}

func (r *plantReader) watts(n node) float64 {
	v, u := r.quantity(n, wattUnits...)
	if u == "mW" {
		v /= 1000
	}
	return r.something(n, v, u)
}

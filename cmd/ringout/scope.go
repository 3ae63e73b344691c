package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/columns"
	"ringout/cmd/ringout/tell"
	"ringout/layout/pack"
	"ringout/model"
	"ringout/model/material"
)

// This file reads the flags that say which part of a plant is meant.

// scoping is a choice of a part of a plant.
type scoping struct {
	*reading
	asked   [][]string // tags by flag, in the order of scopes
	tagFile string
	scope   material.Scope
	title   []pack.Asked // what the scope was asked for by
}

// scopeKind is one way to say what is meant.
type scopeKind struct {
	flag, help string
	tags       func(p *model.Plant) []string
	add        func(p *scoping, tag string)
}

// scopes are the flags that say what is meant. A tag in a file is looked
// for in their order.
var scopes = []scopeKind{
	{"box", "the work at this box", placeTags(true), (*scoping).addPlace},
	{"cabinet", "the work at this cabinet, panel or system", placeTags(false), (*scoping).addPlace},
	{"cable", "this cable", func(p *model.Plant) (tags []string) {
		for _, c := range p.Cables {
			tags = append(tags, c.Tag)
		}
		return tags
	}, func(p *scoping, tag string) { p.scope.Cables = appendNew(p.scope.Cables, p.plant.Cable(tag)) }},
	{"loop", "this loop", func(p *model.Plant) (tags []string) {
		for _, l := range p.Loops {
			tags = append(tags, l.Tag)
		}
		return tags
	}, func(p *scoping, tag string) {
		p.addLoops(func(l *model.Loop) bool { return l.Tag == tag })
	}},
	{"area", "the loops of this area", func(p *model.Plant) (tags []string) {
		for _, l := range p.Loops {
			if l.Area != "" {
				tags = appendNew(tags, l.Area)
			}
		}
		return tags
	}, func(p *scoping, tag string) {
		p.addLoops(func(l *model.Loop) bool { return l.Area == tag })
	}},
}

// placeTags are the tags of the boxes, or of the other places.
func placeTags(boxes bool) func(p *model.Plant) []string {
	return func(p *model.Plant) (tags []string) {
		for _, pl := range p.Places {
			if (pl.Kind == model.Box) == boxes {
				tags = append(tags, pl.Tag)
			}
		}
		return tags
	}
}

func (p *scoping) addPlace(tag string) {
	p.scope.Places = appendNew(p.scope.Places, p.plant.Place(tag))
}

func (p *scoping) addLoops(wanted func(*model.Loop) bool) {
	for _, l := range p.plant.Loops {
		if wanted(l) {
			p.scope.Loops = appendNew(p.scope.Loops, l)
		}
	}
}

func appendNew[T comparable](all []T, x T) []T {
	if slices.Contains(all, x) {
		return all
	}
	return append(all, x)
}

// flags gives a command the flags of a scope; what is what they are for, at the
// argument that names the plant.
func (p *scoping) flags(cmd *cobra.Command, what string, at int) {
	p.asked = make([][]string, len(scopes))
	for i, k := range scopes {
		cmd.Flags().StringSliceVar(&p.asked[i], k.flag, nil, what+" for "+k.help+"; comma-separated `TAG`s")
		tags := func(args []string) []string {
			r, err := readPlant(argument(args, at))
			if err != nil {
				return nil
			}
			return k.tags(r.plant)
		}
		if err := cmd.RegisterFlagCompletionFunc(k.flag, completeList(tags)); err != nil {
			panic(err) // no such flag: a slip in this function
		}
	}
	cmd.Flags().StringVar(&p.tagFile, "tag-file", "", what+" for the tags in this `FILE`, one on a line")
}

// given is the first of the flags that is given; "" without any.
func (p *scoping) given() string {
	for i, k := range scopes {
		if len(p.asked[i]) > 0 {
			return "--" + k.flag
		}
	}
	if p.tagFile != "" {
		return "--tag-file"
	}
	return ""
}

// choose turns the tags that were asked for into the scope.
func (p *scoping) choose() error {
	for i, k := range scopes {
		known := k.tags(p.plant)
		for _, tag := range p.asked[i] {
			at := indexTag(known, tag)
			if at < 0 {
				return tell.WrongUsef("--%s: %s", k.flag, p.unknown(tag, "no "+k.flag+" is", known))
			}
			p.add(k, known[at])
		}
	}
	if p.tagFile != "" {
		if err := p.readTags(); err != nil {
			return err
		}
	}
	if p.tagFile != "" && len(p.title) == 0 {
		return tell.WrongUsef("%s: the file has no tags", p.tagFile)
	}
	return nil
}

// indexTag is where a tag is in a list, in any case where it is not there as it is
// written; -1 without it.
func indexTag(known []string, tag string) int {
	if i := slices.Index(known, tag); i >= 0 {
		return i
	}
	return slices.IndexFunc(known, func(s string) bool { return strings.EqualFold(s, tag) })
}

// unknown is the message that nothing has a tag, with the flag or tag that may be meant.
func (p *scoping) unknown(tag, who string, known []string) string {
	for _, k := range scopes {
		all := k.tags(p.plant)
		if i := slices.IndexFunc(all, func(s string) bool { return strings.EqualFold(s, tag) }); i >= 0 {
			return fmt.Sprintf("%s %q; use --%s %s", who, tag, k.flag, all[i])
		}
	}
	return fmt.Sprintf("%s %q%s", who, tag, tell.DidYouMean(tag, known))
}

// words is what the scope was asked for by, such as box JB-21, loop F-2107.
func (p *scoping) words() string { return strings.Join(pack.AskedWords(p.title), ", ") }

func (p *scoping) add(k scopeKind, tag string) {
	k.add(p, tag)
	p.title = appendNew(p.title, pack.Asked{Kind: k.flag, Tag: tag})
}

// Limits of a file of tags: how many it may name, and how many lines are reported
// that name nothing.
const (
	mostTags = 1000
	mostBad  = 50
)

// readTags reads a file of tags of any kind. Lines that name nothing are reported
// with their numbers.
func (p *scoping) readTags() error {
	data, err := columns.ReadText(p.tagFile)
	if err != nil {
		return err
	}
	var bad []string
	n, tags := 0, 0
	for tag := range strings.Lines(data) {
		n++
		// A tag may hold a #; a comment stands alone or behind a space.
		for i := range len(tag) {
			if tag[i] == '#' && (i == 0 || tag[i-1] == ' ' || tag[i-1] == '\t') {
				tag = tag[:i]
				break
			}
		}
		if tag = strings.TrimSpace(tag); tag == "" {
			continue
		}
		if tags++; tags > mostTags {
			return tell.WrongUsef("%s:%d: more than %d tags", p.tagFile, n, mostTags)
		}
		if len(bad) < mostBad && !p.addAny(tag) {
			var known []string
			for _, k := range scopes {
				known = append(known, k.tags(p.plant)...)
			}
			bad = append(bad, fmt.Sprintf("%s:%d: no loop, box, cabinet, cable or area is %q%s", p.tagFile, n, tag, tell.DidYouMean(tag, known)))
		}
	}
	if len(bad) > 0 {
		return tell.WrongUsef("%s", strings.Join(bad, "\nringout: "))
	}
	return nil
}

// addAny adds what has a tag, of whatever kind: a device means its loop. A
// tag in the same case goes before one in another case.
func (p *scoping) addAny(tag string) bool {
	return p.addFirst(func(s string) bool { return s == tag }) ||
		p.addFirst(func(s string) bool { return strings.EqualFold(s, tag) })
}

func (p *scoping) addFirst(is func(tag string) bool) bool {
	for _, k := range scopes {
		for _, s := range k.tags(p.plant) {
			if is(s) {
				p.add(k, s)
				return true
			}
		}
	}
	for _, l := range p.plant.Loops {
		for _, d := range l.Devices {
			if is(d.Tag) {
				p.scope.Loops = appendNew(p.scope.Loops, l)
				p.title = appendNew(p.title, pack.Asked{Kind: "loop", Tag: l.Tag})
				return true
			}
		}
	}
	return false
}

// material are the counts of the pack for the scope: which tests there are
// depends on its sheets.
func (p *scoping) material() ([]material.Item, error) {
	plan, err := p.plan(true)
	if err != nil {
		return nil, err
	}
	pack, err := pack.New(plan, p.title, p.scope, false)
	if err != nil {
		return nil, tell.WrongUsef("%s: %v", p.words(), err)
	}
	return pack.Material(), nil
}

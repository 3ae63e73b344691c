package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"ringout/layout"
	"ringout/model"
)

// packing is one run of pack.
type packing struct {
	*reading
	out      string
	draft    bool
	asked    [][]string // tags by flag, in the order of scopes
	tagFile  string
	scope    model.Scope
	title    []string // what the scope is called, such as box JB-21
	fileName string   // without extension
}

// scopeKind is one way to say what a pack is for.
type scopeKind struct {
	flag, help string
	tags       func(p *model.Plant) []string
	add        func(p *packing, tag string)
}

// scopes are the flags that say what a pack is for. A tag in a file is looked
// for in their order.
var scopes = []scopeKind{
	{"box", "the work at this box", placeTags(true), (*packing).addPlace},
	{"cabinet", "the work at this cabinet, panel or system", placeTags(false), (*packing).addPlace},
	{"cable", "this cable", func(p *model.Plant) (tags []string) {
		for _, c := range p.Cables {
			tags = append(tags, c.Tag)
		}
		return tags
	}, func(p *packing, tag string) { p.scope.Cables = appendNew(p.scope.Cables, p.plant.Cable(tag)) }},
	{"loop", "this loop", func(p *model.Plant) (tags []string) {
		for _, l := range p.Loops {
			tags = append(tags, l.Tag)
		}
		return tags
	}, func(p *packing, tag string) {
		p.addLoops(func(l *model.Loop) bool { return l.Tag == tag })
	}},
	{"area", "the loops of this area", func(p *model.Plant) (tags []string) {
		for _, l := range p.Loops {
			if l.Area != "" {
				tags = appendNew(tags, l.Area)
			}
		}
		return tags
	}, func(p *packing, tag string) {
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

func (p *packing) addPlace(tag string) {
	p.scope.Places = appendNew(p.scope.Places, p.plant.Place(tag))
}

func (p *packing) addLoops(wanted func(*model.Loop) bool) {
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

func packCommand() *cobra.Command {
	p := packing{asked: make([][]string, len(scopes))}
	cmd := &cobra.Command{
		Use: "pack [PLANT] [flags]", GroupID: "print", Short: "put together the sheets for one job, as one PDF",
		Long: `Pack writes one PDF in the order of the work: a cover with contents, cautions,
permits, tools and material; the diagrams of boxes and cabinets; the ring-out
sheets of cables; each loop with its record; punch list, mark-up key, sign-off.
The sheets are those of the drawing set, with the same numbers and codes. Print
it on both sides: a loop diagram and its record then lie open together.

A scope may be said in several ways at once; several tags go with commas. A tag
file has one tag of any kind on a line; what follows a # is a comment.`,
		Example: `  ringout pack samples/tern-island --box JB-21 -o out
  ringout pack --loop F-2107,L-2115
  ringout pack --tag-file monday.txt`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) (err error) {
			if p.reading, err = readPlant(argument(args, 0)); err != nil {
				return err
			}
			return p.run(cmd.Context(), cmd.ErrOrStderr())
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	for i, k := range scopes {
		flags.StringSliceVar(&p.asked[i], k.flag, nil, "pack for "+k.help+"; more `TAG`s with commas")
	}
	flags.StringVar(&p.tagFile, "tag-file", "", "pack for the tags in this `FILE`, one on a line")
	flags.StringVarP(&p.out, "out", "o", "out", "write into the folder `DIR`, made if need be")
	flags.BoolVar(&p.draft, "draft", false, "pack what can be drawn in spite of errors, marked as a draft")
	for _, k := range scopes {
		tags := func(args []string) []string {
			r, err := readPlant(argument(args, 0))
			if err != nil {
				return nil
			}
			return k.tags(r.plant)
		}
		if err := cmd.RegisterFlagCompletionFunc(k.flag, completeList(tags)); err != nil {
			panic(err) // no such flag: a slip in this function
		}
	}
	return cmd
}

// run writes the pack and prints the problems that were found.
func (p *packing) run(ctx context.Context, stderr io.Writer) error {
	if err := p.choose(); err != nil {
		return err
	}
	refuse := func() error {
		fmt.Fprintf(stderr, "ringout: %s: %s, so nothing is packed (--draft packs what it can)\n", p.name, p.verdict())
		return errProblems
	}
	if p.problems.Errors() > 0 && !p.draft {
		if err := p.print(stderr); err != nil {
			return err
		}
		return refuse()
	}
	plan, err := p.plan(p.draft)
	if err != nil {
		return err
	}
	pack, err := layout.NewPack(plan, p.title, p.scope)
	if err != nil {
		return wrongUsef("%s: %v", strings.Join(p.title, ", "), err)
	}
	to, err := newDelivery(p.out)
	if err != nil {
		return err
	}
	defer to.abandon()
	found, err := p.write(ctx, to, plan, pack)
	p.problems = append(p.problems, found...).Sort()
	if e := p.print(stderr); err == nil {
		err = e
	}
	if err != nil {
		return unwritten(p.out, err)
	}
	if found.Errors() > 0 && !p.draft {
		return refuse()
	}
	if err := to.finish(); err != nil {
		return err
	}
	if isTerminal(stderr) {
		fmt.Fprintf(stderr, "%s: %s in %s\n", p.name, count(len(pack.Sheets), "page"), filepath.Join(p.out, p.fileName+".pdf"))
	}
	if p.problems.Errors() > 0 {
		return errProblems
	}
	return nil
}

// choose turns the tags that were asked for into the scope.
func (p *packing) choose() error {
	for i, k := range scopes {
		known := k.tags(p.plant)
		for _, tag := range p.asked[i] {
			at := slices.IndexFunc(known, func(s string) bool { return strings.EqualFold(s, tag) })
			if at < 0 {
				return wrongUsef("--%s: %s", k.flag, p.unknown(tag, "no "+k.flag+" is", known))
			}
			p.add(k, known[at])
		}
	}
	if p.tagFile != "" {
		if err := p.readTags(); err != nil {
			return err
		}
	}
	if len(p.title) == 0 {
		if p.tagFile != "" {
			return wrongUsef("%s: holds no tag", p.tagFile)
		}
		var ways []string
		for _, k := range scopes {
			ways = append(ways, "--"+k.flag)
		}
		return wrongUsef("pack needs to know what for: %s or --tag-file", strings.Join(ways, ", "))
	}
	p.fileName = (&drawing{reading: p.reading, only: []string{"pack", p.short()}}).bookName()
	return nil
}

// unknown says that nothing bears a tag, and where to look for it.
func (p *packing) unknown(tag, who string, known []string) string {
	for _, k := range scopes {
		all := k.tags(p.plant)
		if i := slices.IndexFunc(all, func(s string) bool { return strings.EqualFold(s, tag) }); i >= 0 {
			return fmt.Sprintf("%s %q; that is for --%s %s", who, tag, k.flag, all[i])
		}
	}
	return fmt.Sprintf("%s %q%s", who, tag, didYouMean(tag, known))
}

func (p *packing) add(k scopeKind, tag string) {
	k.add(p, tag)
	p.title = appendNew(p.title, k.flag+" "+tag)
}

// short is the scope for the name of a file: its tags, or the name of the file
// that they are in.
func (p *packing) short() string {
	var tags []string
	for _, s := range p.title {
		_, tag, _ := strings.Cut(s, " ")
		tags = append(tags, tag)
	}
	if s := strings.Join(tags, "-"); utf8.RuneCountInString(s) <= 50 {
		return s
	}
	if p.tagFile != "" {
		return strings.TrimSuffix(filepath.Base(p.tagFile), filepath.Ext(p.tagFile))
	}
	return fmt.Sprintf("%s-and-%d-%s", tags[0], len(tags)-1, shortDigest(tags))
}

// readTags reads a file of tags of any kind. Every line that names nothing is
// told, with its number.
func (p *packing) readTags() error {
	f, err := os.Open(p.tagFile)
	if err != nil {
		return wrongUsef("%s: cannot be read: %v", p.tagFile, reason(err))
	}
	defer f.Close()
	var bad []string
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		tag := strings.TrimPrefix(lines.Text(), "\ufeff")
		// A tag may hold a #; a comment stands alone or behind a space.
		for i := range len(tag) {
			if tag[i] == '#' && (i == 0 || tag[i-1] == ' ' || tag[i-1] == '\t') {
				tag = tag[:i]
				break
			}
		}
		if tag = strings.TrimSpace(tag); tag != "" && !p.addAny(tag) {
			var known []string
			for _, k := range scopes {
				known = append(known, k.tags(p.plant)...)
			}
			bad = append(bad, fmt.Sprintf("%s:%d: no loop, box, cabinet, cable or area is %q%s", p.tagFile, n, tag, didYouMean(tag, known)))
		}
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("%s: cannot be read: %w", p.tagFile, err)
	}
	if len(bad) > 0 {
		return wrongUse{strings.Join(bad, "\nringout: ")}
	}
	return nil
}

// addAny adds what bears a tag, of whatever kind: a device stands for its loop.
func (p *packing) addAny(tag string) bool {
	for _, k := range scopes {
		for _, s := range k.tags(p.plant) {
			if strings.EqualFold(s, tag) {
				p.add(k, s)
				return true
			}
		}
	}
	for _, l := range p.plant.Loops {
		for _, d := range l.Devices {
			if strings.EqualFold(d.Tag, tag) {
				p.scope.Loops = appendNew(p.scope.Loops, l)
				p.title = appendNew(p.title, "loop "+l.Tag)
				return true
			}
		}
	}
	return false
}

// write writes the pages, in their order, into one file.
func (p *packing) write(ctx context.Context, to *delivery, plan *layout.Plan, pack *layout.Pack) (found model.Problems, err error) {
	book := bookWriter{to: to, name: p.fileName, title: p.plant.Name + ", field pack for " + pack.Words,
		made: issued(plan.Newest()), volumes: [][]*layout.Sheet{pack.Sheets}}
	defer book.abandon()
	for page, problems := range pack.Pages() {
		if ctx.Err() != nil {
			return found, fmt.Errorf("stopped; nothing is packed")
		}
		found = append(found, problems...)
		if err := book.page(page); err != nil {
			return found, err
		}
	}
	return found, nil
}

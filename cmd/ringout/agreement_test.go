package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ringout/model"
)

// agreeing are the plants that are read back from paper.
var agreeing = []string{"../../samples/one-loop", "../../samples/tern-island", "../../samples/heron-lock", "../../samples/ferry-cove", "../../samples/wren-creek", "../../samples/sludge-house", "../../samples/cold-store", "../../samples/skid-7", "testdata/parted", "../../model/modeltest/testdata/common.yaml", "../../model/modeltest/testdata/fourwire.yaml", "../../model/modeltest/testdata/housing.yaml", "../../model/modeltest/testdata/threewire.yaml"}

// TestSheetsAgree draws whole plants, reads the PDF back by its words and
// compares every fact on every sheet with the model, both ways.
func TestSheetsAgree(t *testing.T) {
	t.Parallel()
	fresh := filepath.Join(t.TempDir(), "fresh")
	if code := run(context.Background(), []string{"new", fresh}, io.Discard, io.Discard); code != fine {
		t.Fatalf("new: exit code %d", code)
	}
	for _, plant := range append(agreeing[:len(agreeing):len(agreeing)], fresh) {
		t.Run(filepath.Base(plant), func(t *testing.T) {
			t.Parallel()
			b := drawBook(t, plain(t, plant))
			report(t, b.differences())
			if strings.Contains(plant, "/samples/") {
				b.followLinks(t)
			}
		})
	}
}

// plain is a plant that prints the words and the letters of colours that are read back:
// a copy of one whose practice chooses others. TestSheetsSayOneKindOfWords holds those.
func plain(t *testing.T, plant string) string {
	t.Helper()
	const own = "  words: North American\n"
	text, err := os.ReadFile(filepath.Join(plant, "plant.yaml"))
	if err != nil || !strings.Contains(string(text), own) {
		return plant
	}
	to := filepath.Join(t.TempDir(), filepath.Base(plant))
	if err := os.CopyFS(to, os.DirFS(plant)); err != nil {
		t.Fatal(err)
	}
	s := strings.NewReplacer(own, "", "  colour names: words\n", "").Replace(string(text))
	if err := os.WriteFile(filepath.Join(to, "plant.yaml"), []byte(s), 0o666); err != nil {
		t.Fatal(err)
	}
	return to
}

// report fails a test with what differs; a few lines will do.
func report(t testing.TB, differences []string) {
	t.Helper()
	for i, d := range differences {
		if i == 60 {
			t.Errorf("and %d more", len(differences)-i)
			return
		}
		t.Error(d)
	}
}

// reading of a whole book: what each subject shows, and where.
type shownBook struct {
	loops, records, places, rings map[string]*facts // by tag
	segments                      map[string]*facts // likewise
	loopLeaves                    []*loopLeaf
	placeLeaves                   []*placeLeaf
	recordLeaves                  []*leaf
	rung                          map[string]int // of each core the sheet that rings it out
	proved                        []elsewhere
	wrong                         []string
}

// elsewhere is a core that a record leaves to a ring-out sheet.
type elsewhere struct {
	record, sheet int
	run           string
}

// read reads all sheets but the index.
func (b *book) read() *shownBook {
	s := &shownBook{loops: map[string]*facts{}, records: map[string]*facts{}, places: map[string]*facts{}, rings: map[string]*facts{}, segments: map[string]*facts{}, rung: map[string]int{}}
	at := func(m map[string]*facts, l *leaf, letters string) *facts {
		_, tag, _ := strings.Cut("-"+l.name, "-"+letters+"-")
		if m[tag] == nil {
			m[tag] = &facts{}
			if l.code != "" {
				m[tag].add("code %s", l.code)
			}
		} else if (*m[tag])["code "+l.code] == 0 {
			s.wrong = append(s.wrong, fmt.Sprintf("sheet %d: code %q differs from the sheets before", l.number, l.code))
		}
		return m[tag]
	}
	for _, l := range b.leaves {
		if l.number != l.page || l.of != len(b.leaves) {
			s.wrong = append(s.wrong, fmt.Sprintf("page %d of %d says that it is sheet %d of %d", l.page, len(b.leaves), l.number, l.of))
		}
		switch l.kind {
		case "Loop diagram":
			s.loopLeaves = append(s.loopLeaves, readLoop(l, at(s.loops, l, "LD")))
		case "Segment diagram":
			readSegment(l, at(s.segments, l, "SD"))
		case "Box diagram":
			s.placeLeaves = append(s.placeLeaves, readPlace(l, at(s.places, l, "JD")))
		case "Cabinet diagram":
			s.placeLeaves = append(s.placeLeaves, readPlace(l, at(s.places, l, "CD")))
		case "Loop test record":
			s.recordLeaves = append(s.recordLeaves, l)
			readRecord(l, at(s.records, l, "TR"), func(run string, sheet int) {
				s.proved = append(s.proved, elsewhere{l.number, sheet, run})
			})
		case "Cable ring-out sheet":
			readRingOut(l, at(s.rings, l, "CR"), func(core string) { s.rung[core] = l.number })
		case "Sheet index":
		default:
			s.wrong = append(s.wrong, fmt.Sprintf("page %d is a %q", l.page, l.kind))
		}
	}
	return s
}

// differences compares a book with its model, and its sheets with each other.
func (b *book) differences() []string {
	s := b.read()
	all := s.wrong
	compare := func(what string, shown *facts, want, may facts) {
		if shown == nil {
			all = append(all, what+" is not drawn")
			return
		}
		for _, f := range want.without(*shown) {
			all = append(all, what+" does not show: "+f)
		}
		for _, f := range shown.without(want) {
			if may[f] == 0 {
				all = append(all, what+" shows: "+f)
			}
		}
	}
	for _, l := range b.plant.Loops {
		if !l.Plugged() {
			want, may := loopFacts(b.plant, l)
			compare("loop "+l.Tag, s.loops[l.Tag], want, may)
		}
		if l.Segment != nil {
			compare("segment "+l.Tag, s.segments[l.Tag], segmentFacts(b.plant, l), nil)
			delete(s.segments, l.Tag)
		}
		compare("record "+l.Tag, s.records[l.Tag], recordFacts(b.plant, l), nil)
		delete(s.loops, l.Tag)
		delete(s.records, l.Tag)
	}
	for _, p := range b.plant.Places {
		want := placeFacts(b.plant, p)
		if len(want) == 1 && s.places[p.Tag] == nil { // nothing to land on
			continue
		}
		compare("place "+p.Tag, s.places[p.Tag], want, nil)
		delete(s.places, p.Tag)
	}
	for _, c := range b.plant.Cables {
		if c.Type != nil && manyCores(c) {
			compare("cable "+c.Tag, s.rings[c.Tag], ringFacts(b.plant, c), nil)
			delete(s.rings, c.Tag)
		}
	}
	for _, m := range []map[string]*facts{s.loops, s.records, s.places, s.rings, s.segments} {
		for tag := range m {
			all = append(all, "drawn, but not in the model: "+tag)
		}
	}
	left := map[string]elsewhere{} // by run
	for _, x := range s.proved {
		left[x.run] = x
	}
	for _, l := range b.plant.Loops {
		for _, c := range l.Circuits {
			for _, w := range c.Conductors(b.plant) {
				if w.Core == nil || w.Status == model.Future {
					continue
				}
				x, ok := left[c.Name+", "+runText(w)]
				if ok != manyCores(w.Core.Cable) {
					all = append(all, fmt.Sprintf("%s is left to a ring-out sheet: %v", w.Core.Name(), ok))
				} else if sheet := s.rung[w.Core.Name()]; ok && sheet != x.sheet {
					all = append(all, fmt.Sprintf("sheet %d leaves %s to sheet %d, and it is rung out on sheet %d", x.record, w.Core.Name(), x.sheet, sheet))
				}
			}
		}
	}
	all = append(all, b.indexDifferences()...)
	all = append(all, s.referenceDifferences(b)...)
	slices.Sort(all)
	return all
}

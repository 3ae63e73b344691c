package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/model"
	"ringout/model/diff"
	"ringout/model/finding"
	"ringout/model/read"
)

// This file keeps the places that circuits count, so that what was printed once stays with
// its loop.

// counted is how many things have places that are not kept yet.
func (r *reading) counted() (n int) {
	for _, c := range r.plant.Counted {
		if c.New {
			n++
		}
	}
	return n
}

// keepCounted writes the file that keeps the counted places, whole or not at all, before
// anything is printed that shows new ones.
func (r *reading) keepCounted(stderr io.Writer) error {
	n := r.counted()
	if n == 0 {
		return nil
	}
	if err := r.refuseMoved(stderr); err != nil {
		return err
	}
	info, err := os.Stat(r.path)
	if err != nil {
		return fmt.Errorf("%s: cannot be read: %w", r.path, tell.Reason(err))
	}
	file := read.CountedFile(filepath.ToSlash(r.path), info.IsDir())
	text, err := read.CountedText(r.plant, file)
	if err != nil {
		return err
	}
	path, err := output.Linked(filepath.FromSlash(file))
	if err != nil {
		return err
	}
	to, err := output.NewDelivery(filepath.Dir(path), stderr)
	if err != nil {
		return err
	}
	defer to.Abandon()
	if err := to.Write(filepath.Base(path), func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}); err != nil {
		return fmt.Errorf("%s: cannot be written: %w", path, tell.Reason(err))
	}
	if err := to.Finish(); err != nil {
		return err
	}
	fmt.Fprintf(stderr, "ringout: %s: %s kept\n", path, finding.Count(n, "counted place"))
	return nil
}

// refuseMoved tells of every counted place that is kept nowhere and is another than the
// register of issues has for the same circuit: what was issued may be wired. The error is
// errModel where there is one.
func (r *reading) refuseMoved(stderr io.Writer) error {
	if r.counted() == 0 {
		return nil
	}
	issues, err := r.issues()
	if err != nil || issues == nil {
		return err
	}
	was, is := landings(issues.Things), landings(diff.Objects(r.plant))
	for _, c := range r.plant.Counted {
		key := [3]string{c.Loop, c.Circuit, c.On}
		if !c.New || was[key] == "" || is[key] == "" || was[key] == is[key] {
			continue
		}
		err = errModel
		fmt.Fprintf(stderr, "ringout: %s: %s of loop %s counts %s on %s, and was issued with %s at revision %s (%s); write what was issued under counted, or in the path\n",
			r.written(c), c.Circuit, c.Loop, is[key], c.On, was[key], issues.Newest().Mark, r.issuesPath())
	}
	return err
}

// written is where the circuit that counts is written.
func (r *reading) written(c *model.Counted) (at finding.Pos) {
	r.plant.EachCircuit(func(x *model.Circuit) {
		if x.Name == c.Circuit && x.Loop.Tag == c.Loop {
			at = x.Pos
		}
	})
	return at
}

// landings are what circuits take of each part and cable, by loop, circuit and its tag.
func landings(things []diff.Object) map[[3]string]string {
	all := map[[3]string]string{}
	for _, x := range things {
		for _, p := range x.Properties {
			if x.Kind == diff.OfCircuit && p.Key == diff.KeyVia {
				all[[3]string{x.Of.Tag, x.Tag, p.At}] = p.Value
			}
		}
	}
	return all
}

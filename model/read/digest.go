package read

import (
	"crypto/sha256"
	"fmt"

	"gopkg.in/yaml.v3"
)

// This file digests the text of a plant piece by piece, so that two versions of
// it can be compared without reading what each says.

// entryWords are the keys of a plant file whose values are entries with a tag,
// and what an entry is called.
var entryWords = map[string]string{
	"loops": "loop", "segments": "loop", "cables": "cable", "boxes": "place", "cabinets": "place", "panels": "place", "systems": "place",
}

// digest digests the text of one file. Every byte belongs to the key before it.
func (r *plantReader) digest(root node) {
	from, of := 0, ""
	add := func(to int) {
		to = max(from, to)
		sum := r.plant.Texts[of]
		r.plant.Texts[of] = sha256.Sum256(append(sum[:], root.src.Data[from:to]...))
		from = to
	}
	begin := func(key *yaml.Node, entry string) {
		add(root.src.Offset(key.Line, key.Column))
		of = entry
	}
	keys := func(n *yaml.Node, do func(key, value *yaml.Node)) {
		for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
			do(n.Content[i], n.Content[i+1])
		}
	}
	keys(root.Node, func(section, entries *yaml.Node) {
		if rowFields.has([]string{section.Value}) {
			begin(section, "rows") // what they make is digested by itself
			return
		}
		begin(section, "")
		word := entryWords[section.Value]
		if word == "" {
			return
		}
		keys(entries, func(tag, entry *yaml.Node) {
			begin(tag, word+" "+tag.Value)
			if section.Value != "systems" {
				return
			}
			keys(entry, func(key, cards *yaml.Node) {
				begin(key, word+" "+tag.Value)
				if key.Value == "cards" {
					keys(cards, func(card, _ *yaml.Node) { begin(card, "part "+card.Value) })
				}
			})
		})
	})
	add(len(root.src.Data))
}

// digestCounted digests the places that circuits count, with the text of their loops.
func (r *plantReader) digestCounted() {
	for _, c := range r.plant.Counted {
		of := "loop " + c.Loop
		sum := r.plant.Texts[of]
		r.plant.Texts[of] = sha256.Sum256(fmt.Appendf(sum[:], "%q %q %q", c.Circuit, c.On, c.Places))
	}
}

// digestFilled digests what a row made of a pattern, entry by entry.
func (r *plantReader) digestFilled(root *yaml.Node) {
	var add func(of string, n *yaml.Node)
	add = func(of string, n *yaml.Node) {
		sum := r.plant.Texts[of]
		r.plant.Texts[of] = sha256.Sum256(fmt.Appendf(sum[:], "%d %d %q", n.Kind, len(n.Content), n.Value))
		for _, c := range n.Content {
			add(of, c)
		}
	}
	for i := 0; i+1 < len(root.Content); i += 2 {
		word, entries := entryWords[root.Content[i].Value], root.Content[i+1]
		for j := 0; entries.Kind == yaml.MappingNode && j+1 < len(entries.Content); j += 2 {
			add(word+" "+entries.Content[j].Value, entries.Content[j+1])
		}
	}
}

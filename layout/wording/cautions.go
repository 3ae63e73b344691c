package wording

import "ringout/model/english"

// The cautions that more than one kind of sheet bears, each in one wording: the
// danger, then the order. A sheet says before them what is dangerous, or where.
const (
	// ProveDead comes before every test.
	ProveDead english.Text = "Isolate, lock off, prove dead, both ends. Insulation testers miss a live 24 V loop: measure the voltage."

	// MainsRule is for voltages that can kill, where the work is on them; diagrams
	// have no room for when.
	MainsRule      english.Text = MainsRuleShort + " before removing covers."
	MainsRuleShort english.Text = ": qualified persons only; isolate, lock off, prove dead"

	// CoversOn is for those beside the work.
	CoversOn english.Text = ": keep covers on. Qualified persons only; prove dead."

	// NeverThrough keeps test voltages from what they would damage.
	NeverThrough english.Text = "Disconnect both ends of every core, check. Never test through a device, barrier, galvanic isolator, card or surge protector."

	// ServiceRule is for work on or beside wiring in service.
	ServiceRule = "Tell operations; loops in manual; written authority for any trip bypass."

	// CodesFirst is for diagrams, where room is short.
	CodesFirst = "Permits and codes first. Qualified persons only."

	// DeadFirst is for diagrams of loops and segments.
	DeadFirst = english.Text("Isolate and prove dead before work. ") + CodesFirst

	// Overrides is what forms and packs give way to.
	Overrides = "Local codes, site permits and a qualified person's decision override this document."
)

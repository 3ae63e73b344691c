package model

// LabelKind is what a label is put on.
type LabelKind uint8

// Kinds of label.
const (
	CableLabel LabelKind = iota
	CoreLabel
	TerminalLabel
	labelKinds
)

func (k LabelKind) String() string { return labelWords[k] }

var labelWords = [labelKinds]string{CableLabel: "cables", CoreLabel: "cores", TerminalLabel: "terminals"}

// LabelKinds are the words for the kinds of label, in their order.
func LabelKinds() []string { return labelWords[:] }

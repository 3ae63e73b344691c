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

// Marked reports whether an end of a conductor bears a marker.
func (c *Conductor) Marked(e End) bool {
	return c.Kind != JumperRun && c.Doubt == "" && (e.Terminal != nil || !c.Screen && (c.Spare == "" || c.spareCore()))
}

// Name is the own name of a conductor: of a core its cable, group and letter; of
// a wire its circuit and leg, or where a feed comes from.
func (c *Conductor) Name() string {
	switch {
	case c.Core != nil:
		return c.Core.Name()
	case c.Circuit != nil:
		return c.Circuit.Name + " " + c.LegMark()
	}
	return c.From.Short()
}

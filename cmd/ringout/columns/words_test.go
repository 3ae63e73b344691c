package columns

import "testing"

// TestWords: words of the trade, written down from lists and not from the tables.
func TestWords(t *testing.T) {
	t.Parallel()
	for word, letters := range map[string]string{
		"BLK": "BK", "Wht/Blu": "WHBU", "RED-1": "RD 1", "GRN 12": "GN 12", "black/white": "BKWH", "BR": "", "plaid": "", "BLK/BLK": "", "slate": "GY", "GRN/YEL": "GN/YE",
	} {
		if c, ok := ParseColour(word); ok != (letters != "") || ok && c.Letters() != letters {
			t.Errorf("%s is %q, not %q", word, c.Letters(), letters)
		}
	}
	// ISA-5.1, table 1: the first letter is what is measured, the last what is done.
	for word, kind := range map[string]string{
		"FT": "transmitter", "PDT": "transmitter", "LIT": "transmitter", "TCV": "control valve", "FV": "control valve", "PSHH": "contact", "ZSO": "contact",
		"TE": "", "FY": "", "PI": "", "Transmitter": "transmitter", "transmitter": "", "T/C": "thermocouple", "dry contact": "contact",
	} {
		if got := KindOfWord("instruments", word); got != kind {
			t.Errorf("%s is taken for %q, not %q", word, got, kind)
		}
	}
	if got := KindOfWord("io", "Analogue Input"); got != "AI" {
		t.Errorf("an analogue input is %q", got)
	}
	for head, want := range map[string]struct {
		side string
		part endPart
	}{
		"FROM": {"from", wholePart}, "From Equipment": {"from", placePart}, "To Terminal Strip": {"to", stripPart}, "TERMINAL NO. (FIELD SIDE)": {"from", terminalPart},
		"End B: terminal": {"to", terminalPart}, "Equipment": {"", placePart}, "TB": {"", stripPart}, "Tag": {"", noPart}, "Colour": {"", noPart}, "Remarks": {"", noPart},
	} {
		if side, part := endHead(head); side != want.side || part != want.part {
			t.Errorf("%q is side %q, part %d", head, side, part)
		}
	}
	for core, want := range map[string]string{
		"pair 3 +": "3a", "pr 3 -": "3b", "2 screen": "2s", "shield": "s", "overall screen": "os", "oas": "os", "3.2": "3b", "4-a": "4a", "12": "12", "core 7": "7",
	} {
		if got := PlainCore(core); got != want {
			t.Errorf("core %q is %q, not %q", core, got, want)
		}
	}
}

package tables

import (
	"bytes"
	"encoding/binary"
	"unicode/utf16"
	"unicode/utf8"

	"ringout/model/finding"
)

// This file reads CSV: in UTF-8, in UTF-16 with its mark, and in Windows-1252, of which
// the printed signs of Latin-1 (ISO/IEC 8859-1) are part.

// readCSV reads one file as a sheet.
func readCSV(file string, data []byte) (*Sheet, error) {
	s := &Sheet{File: file}
	text, as, err := decoded(file, data)
	if err != nil {
		return nil, err
	}
	if as != "" {
		s.Odd = append(s.Odd, Odd{Text: "the file is not in UTF-8; it is read as " + as})
	}
	rows, err := ReadCSV(text)
	if err != nil {
		return nil, faultf("%s: is not CSV: %v", file, err)
	}
	if len(rows) == 0 {
		return nil, faultf("%s: is empty", file)
	}
	for _, r := range rows {
		if err := s.add(r.Line, r.Cells); err != nil {
			return nil, err
		}
		if last := len(s.Rows) - 1; last >= 0 && s.Rows[last].N == r.Line {
			s.Rows[last].places = r.places
		}
	}
	s.Text = text
	return s, nil
}

// decoded is the text of a file, and how it is written unless in UTF-8.
func decoded(file string, data []byte) (text []byte, as string, err error) {
	switch {
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}) && !bytes.HasPrefix(data, []byte{0xFF, 0xFE, 0, 0}):
		return fromUTF16(data[2:], binary.LittleEndian), "UTF-16", nil
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return fromUTF16(data[2:], binary.BigEndian), "UTF-16", nil
	case !utf8.Valid(data) && !bytes.ContainsRune(data, 0):
		if text, ok := fromWindows(data); ok {
			return text, "Latin-1 (Windows-1252)", nil
		}
	}
	text, at, fault := finding.Text(file, data)
	switch {
	case fault != "":
		return nil, "", faultf("%s: %s", at, fault)
	case len(bytes.TrimSpace(text)) == 0:
		return nil, "", faultf("%s: is empty", file)
	}
	return text, "", nil
}

func fromUTF16(data []byte, order binary.ByteOrder) []byte {
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	return []byte(string(utf16.Decode(units)))
}

// windowsSigns are the signs 80 to 9F of Windows-1252, a blank for those that it does not
// have (the mapping table of the Unicode consortium, CP1252.TXT).
const windowsSigns = "€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ"

func fromWindows(data []byte) ([]byte, bool) {
	signs := []rune(windowsSigns)
	text := make([]rune, len(data))
	for i, b := range data {
		text[i] = rune(b)
		if b >= 0x80 && b <= 0x9F {
			if text[i] = signs[b-0x80]; text[i] == ' ' {
				return nil, false
			}
		}
	}
	return []byte(string(text)), true
}

package finding

import (
	"bytes"
	"slices"
	"unicode/utf8"
)

// Source is the text of one file and where its lines start.
type Source struct {
	Name   string
	Data   []byte // without a byte order mark
	Starts []int  // byte offset of each line

	// Where Offset stopped last: the next place asked for is mostly near, and
	// counting from the start of a long line would be quadratic.
	lastLine, lastCol, lastOffset int
}

// NewSource finds the lines of a text, less a byte order mark at its start.
func NewSource(name string, data []byte) *Source {
	s := &Source{Name: name, Data: bytes.TrimPrefix(data, []byte(byteOrderMark)), Starts: []int{0}}
	for i, c := range s.Data {
		if c == '\n' {
			s.Starts = append(s.Starts, i+1)
		}
	}
	return s
}

// Line returns line n, counted from 1, without its line break; nil outside.
func (s *Source) Line(n int) []byte {
	if n < 1 || n > len(s.Starts) {
		return nil
	}
	end := len(s.Data)
	if n < len(s.Starts) {
		end = s.Starts[n] - 1
	}
	return bytes.TrimSuffix(s.Data[s.Starts[n-1]:end], []byte("\r"))
}

// Pos returns the place of a byte offset.
func (s *Source) Pos(offset int) Pos {
	i, found := slices.BinarySearch(s.Starts, offset)
	if !found {
		i--
	}
	return Pos{File: s.Name, Line: i + 1, Col: utf8.RuneCount(s.Data[s.Starts[i]:offset]) + 1}
}

// Offset returns the byte offset of a place, the end of its line at most.
func (s *Source) Offset(line, col int) int {
	if line > len(s.Starts) {
		return len(s.Data)
	}
	if line != s.lastLine || col < s.lastCol/2 {
		s.lastLine, s.lastCol, s.lastOffset = line, 1, s.Starts[line-1]
	}
	end := s.Starts[line-1] + len(s.Line(line))
	for s.lastCol < col && s.lastOffset < end {
		_, size := utf8.DecodeRune(s.Data[s.lastOffset:end])
		s.lastOffset += size
		s.lastCol++
	}
	for s.lastCol > col && s.lastCol > 1 {
		_, size := utf8.DecodeLastRune(s.Data[s.Starts[line-1]:s.lastOffset])
		s.lastOffset -= size
		s.lastCol--
	}
	return s.lastOffset
}

// Within returns the place nearest to line and col that is in the text.
func (s *Source) Within(line, col int) Pos {
	line = max(1, min(line, len(s.Starts)))
	s.Offset(line, max(1, col))
	return Pos{File: s.Name, Line: line, Col: s.lastCol}
}

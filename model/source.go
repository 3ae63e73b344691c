package model

import (
	"bytes"
	"slices"
	"unicode/utf8"
)

// source is the text of one file and where its lines start.
type source struct {
	name   string
	data   []byte // without a byte order mark
	starts []int  // byte offset of each line

	// Where offset stopped last: the next place asked for is mostly near, and
	// counting from the start of a long line would be quadratic.
	lastLine, lastCol, lastOffset int
}

func newSource(name string, data []byte) *source {
	s := &source{name: name, data: bytes.TrimPrefix(data, []byte(byteOrderMark)), starts: []int{0}}
	for i, c := range s.data {
		if c == '\n' {
			s.starts = append(s.starts, i+1)
		}
	}
	return s
}

// line returns line n, counted from 1, without its line break; nil outside.
func (s *source) line(n int) []byte {
	if n < 1 || n > len(s.starts) {
		return nil
	}
	end := len(s.data)
	if n < len(s.starts) {
		end = s.starts[n] - 1
	}
	return bytes.TrimSuffix(s.data[s.starts[n-1]:end], []byte("\r"))
}

// pos returns the place of a byte offset.
func (s *source) pos(offset int) Pos {
	i, found := slices.BinarySearch(s.starts, offset)
	if !found {
		i--
	}
	return Pos{s.name, i + 1, utf8.RuneCount(s.data[s.starts[i]:offset]) + 1}
}

// offset returns the byte offset of a place, the end of its line at most.
func (s *source) offset(line, col int) int {
	if line > len(s.starts) {
		return len(s.data)
	}
	if line != s.lastLine || col < s.lastCol/2 {
		s.lastLine, s.lastCol, s.lastOffset = line, 1, s.starts[line-1]
	}
	end := s.starts[line-1] + len(s.line(line))
	for s.lastCol < col && s.lastOffset < end {
		_, size := utf8.DecodeRune(s.data[s.lastOffset:end])
		s.lastOffset += size
		s.lastCol++
	}
	for s.lastCol > col && s.lastCol > 1 {
		_, size := utf8.DecodeLastRune(s.data[s.starts[line-1]:s.lastOffset])
		s.lastOffset -= size
		s.lastCol--
	}
	return s.lastOffset
}

// within returns the place nearest to line and col that is in the text.
func (s *source) within(line, col int) Pos {
	line = max(1, min(line, len(s.starts)))
	s.offset(line, max(1, col))
	return Pos{s.name, line, s.lastCol}
}

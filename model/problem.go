package model

// Pos is where a value was written. Lines and columns count from 1, columns
// in characters.
type Pos struct {
	File      string
	Line, Col int
}

// Severity tells whether a finding stops the drawing.
type Severity uint8

// Severities.
const (
	Error   Severity = iota // drawing stops
	Warning                 // drawing goes on
)

// Problem is one finding of the reader, the desk check or the layout.
type Problem struct {
	Severity Severity
	Code     string // stable name, such as core-used-twice
	Pos      Pos
	Len      int // characters under the caret line; 0 counts as 1
	Text     string
	Also     []Note // the other places that take part
	Hint     string // what to write instead, when that is known
}

// Note is another place that takes part in a Problem.
type Note struct {
	Pos  Pos
	Text string
}

// Problems is a list of findings.
type Problems []Problem

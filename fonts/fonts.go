// Package fonts holds the embedded typefaces and their widths.
package fonts

// Face is one embedded typeface.
type Face uint8

// The faces: a condensed sans for words, a mono with a marked zero for tags,
// terminals and core names.
const (
	Sans Face = iota
	Bold
	Mono
	MonoBold
	Count
)

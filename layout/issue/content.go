package issue

import (
	"fmt"
)

// The digests of a register, in hexadecimal digits.
const (
	SheetDigits = 16
	PartDigits  = 8
)

// SheetKey names a sheet through all issues: its drawing number without the
// plant's prefix, which may change, and its part.
type SheetKey struct {
	Name string
	Part int
}

func (k SheetKey) String() string { return fmt.Sprintf("%s part %d", k.Name, k.Part) }

// Numbered is the drawing number of a sheet with the plant's prefix.
func Numbered(prefix string, k SheetKey) string {
	if prefix == "" {
		return k.Name
	}
	return prefix + "-" + k.Name
}

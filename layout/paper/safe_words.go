package paper

import (
	"ringout/render"
)

// Safety marks lettering as words of safety, so that the audit sees whether they
// are high enough to be read.
func Safety(items []render.Item) []render.Item {
	for _, item := range items {
		if t, ok := item.(*render.Text); ok {
			t.Safety = true
		}
	}
	return items
}

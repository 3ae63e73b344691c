package check

import (
	"testing"

	"ringout/model"
	"ringout/model/finding"
	"ringout/model/modeltest"
)

// checked is what changed reads, with what the desk check finds besides.
func checked(t *testing.T, file string, change ...string) (*model.Plant, finding.Findings) {
	t.Helper()
	p, problems := modeltest.Changed(t, file, change...)
	return p, append(problems, Check(p)...)
}

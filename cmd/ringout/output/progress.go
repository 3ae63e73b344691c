package output

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress is a bar on a terminal, once the work has taken a while.
type progress struct {
	out   io.Writer
	of    int
	done  int
	start time.Time
	bar   *progressbar.ProgressBar
}

// NewProgress is the progress of that many pages.
func NewProgress(out io.Writer, of int) *progress {
	return &progress{out: out, of: of, start: time.Now()}
}

// Advance tells that one more is done.
func (p *progress) Advance() {
	p.done++
	if p.bar == nil {
		if time.Since(p.start) < time.Second || !IsTerminal(p.out) {
			return
		}
		p.bar = progressbar.NewOptions(p.of, progressbar.OptionSetWriter(p.out), progressbar.OptionSetDescription("drawing"),
			progressbar.OptionShowCount(), progressbar.OptionSetWidth(30), progressbar.OptionThrottle(100*time.Millisecond),
			progressbar.OptionClearOnFinish())
	}
	p.bar.Set(p.done) // a bar that cannot be shown is no reason to stop
}

// Clear takes the bar off the screen.
func (p *progress) Clear() {
	if p.bar != nil {
		p.bar.Clear()
	}
}

// IsTerminal reports whether somebody watches what is written there.
func IsTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

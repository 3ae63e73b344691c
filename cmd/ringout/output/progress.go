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

func NewProgress(out io.Writer, of int) *progress {
	return &progress{out: out, of: of, start: time.Now()}
}

func (p *progress) Step() {
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

func (p *progress) Clear() {
	if p.bar != nil {
		p.bar.Clear()
	}
}

func IsTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"
)

// terminal tells whether what is written to w is read by a person at a terminal that knows more than plain
// lines. A device such as /dev/null passes for one; nobody sees what comes to it.
func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("TERM") == "dumb" {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// colourful tells whether colours may be written to w: at a terminal, where NO_COLOR is not set to anything
// (the convention of no-color.org).
func colourful(w io.Writer) bool { return terminal(w) && os.Getenv("NO_COLOR") == "" }

// hue is a colour of a terminal, as ECMA-48 numbers them; 0 is none.
type hue int

const (
	red    hue = 31
	yellow hue = 33
)

// paint is the text in a colour where colours are wanted.
func (a *app) paint(h hue, text string) string {
	if h == 0 || !a.colour {
		return text
	}
	return fmt.Sprintf("\x1b[%dm%s\x1b[0m", h, text)
}

const (
	patience = time.Second            // before the line of progress shows
	beat     = 200 * time.Millisecond // from one of its states to the next
)

// progress is a line that tells how long work has been going on. It goes away before anything else is written. Nil
// shows nothing.
type progress struct {
	to io.Writer
	mu sync.Mutex
	// how far the work is, in words; empty: not told
	far string
	// end is closed to end what is going on; nil: nothing is.
	end  chan struct{}
	done chan struct{}
}

// begin shows, from a second on, that the work goes on.
func (p *progress) begin(what string) {
	if p == nil {
		return
	}
	p.hush()
	p.mu.Lock()
	defer p.mu.Unlock()
	p.far = ""
	p.end, p.done = make(chan struct{}), make(chan struct{})
	go p.show(what, p.end, p.done)
}

func (p *progress) show(what string, end <-chan struct{}, done chan<- struct{}) {
	defer close(done)
	var since time.Time
	tick := time.NewTicker(beat)
	defer tick.Stop()
	shown := false
	for {
		select {
		case <-end:
			if shown {
				fmt.Fprint(p.to, "\r\x1b[K")
			}
			return
		case now := <-tick.C:
			if since.IsZero() {
				since = now.Add(-beat)
			}
			if gone := now.Sub(since); gone >= patience {
				fmt.Fprintf(p.to, "\r\x1b[K%s%s, %.0f s", what, p.farther(), gone.Seconds())
				shown = true
			}
		}
	}
}

// tell says how far the work is.
func (p *progress) tell(format string, args ...any) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.far = ": " + fmt.Sprintf(format, args...)
}

func (p *progress) farther() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.far
}

// hush takes the line away.
func (p *progress) hush() {
	if p == nil {
		return
	}
	p.mu.Lock()
	end, done := p.end, p.done
	p.end = nil
	p.mu.Unlock()
	if end != nil {
		close(end)
		<-done
	}
}

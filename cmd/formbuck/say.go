package main

import (
	"fmt"
	"io"
	"strings"
)

// Every message has one voice: "formbuck: FILE:LINE:COL: what", a line each, on standard error.

// complain says an error, a line for each fault in it.
func (a *app) complain(err error) {
	if err == nil {
		return
	}
	a.lines("formbuck:", red, " ", err.Error())
}

// warn says what the user should know and what did not stop the work.
func (a *app) warn(what string) {
	if !a.quiet {
		a.lines("formbuck: warning:", yellow, " ", what)
	}
}

// note says what happened, on request.
func (a *app) note(what string) { a.lines("formbuck:", 0, " ", what) }

// notes says what happened where --verbose asks for it.
func (a *app) notes(what ...string) {
	for _, n := range what {
		if a.verbose {
			a.note(n)
		}
	}
}

func (a *app) lines(prefix string, h hue, gap, text string) {
	a.progress.hush()
	prefix = a.paint(h, prefix) + gap
	for line := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		fmt.Fprintf(a.err, "%s%s\n", prefix, line)
	}
}

// answer is standard output. It remembers that a write failed, so that a full disk behind a pipe
// does not pass for success.
type answer struct {
	to     io.Writer
	before func() // called before anything is written; nil: nothing is
	fault  error
}

// Write writes unless an earlier write has failed.
func (w *answer) Write(p []byte) (int, error) {
	if w.fault != nil {
		return 0, w.fault
	}
	if w.before != nil {
		w.before()
	}
	n, err := w.to.Write(p)
	if err != nil {
		w.fault = fmt.Errorf("cannot write the answer: %w", err)
	}
	return n, err
}

// done says to standard output that files were written, unless --quiet asks for less.
func (a *app) done(format string, args ...any) {
	if !a.quiet {
		a.printf(format, args...)
	}
}

// printf writes to standard output; a failure is remembered by it.
func (a *app) printf(format string, args ...any) { fmt.Fprintf(a.out, format, args...) }

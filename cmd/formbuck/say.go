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
	a.lines("formbuck: ", err.Error())
}

// warn says what the user should know and what did not stop the work.
func (a *app) warn(what string) { a.lines("formbuck: warning: ", what) }

// note says what happened, on request.
func (a *app) note(what string) { a.lines("formbuck: ", what) }

func (a *app) lines(prefix, text string) {
	for line := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		fmt.Fprintf(a.err, "%s%s\n", prefix, line)
	}
}

// answer is standard output. It remembers that a write failed, so that a full disk behind a pipe
// does not pass for success.
type answer struct {
	to    io.Writer
	fault error
}

// Write writes unless an earlier write has failed.
func (w *answer) Write(p []byte) (int, error) {
	if w.fault != nil {
		return 0, w.fault
	}
	n, err := w.to.Write(p)
	if err != nil {
		w.fault = fmt.Errorf("cannot write the answer: %w", err)
	}
	return n, err
}

// printf writes to standard output; a failure is remembered by it.
func (a *app) printf(format string, args ...any) { fmt.Fprintf(a.out, format, args...) }

package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
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
	for line := range strings.SplitSeq(strings.TrimRight(seen(text), "\n"), "\n") {
		fmt.Fprintf(a.err, "%s%s\n", prefix, line)
	}
}

// unseen tells of a character that a terminal does not show but obeys: control characters, but for line breaks and tabs,
// and those that turn the direction of writing.
func unseen(r rune) bool {
	return r != '\n' && r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r))
}

// seen is the text with every unseen character, and every byte that is no character, written as Go writes it: \x1b. Names
// of files, layers and orders may hold any.
func seen(text string) string {
	if utf8.ValidString(text) && !strings.ContainsFunc(text, unseen) {
		return text
	}
	var b strings.Builder
	for len(text) > 0 {
		r, size := utf8.DecodeRuneInString(text)
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, `\x%02x`, text[0])
		case unseen(r):
			b.WriteString(strings.Trim(strconv.QuoteRuneToASCII(r), "'"))
		default:
			b.WriteRune(r)
		}
		text = text[size:]
	}
	return b.String()
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
func (a *app) printf(format string, args ...any) {
	fmt.Fprint(a.out, seen(fmt.Sprintf(format, args...)))
}

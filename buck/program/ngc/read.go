package ngc

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// What is read at most, so that any file is read within a second or so: a trimming program has some hundred motions,
// and a day's run of the mill a hundred programs.
const (
	maxBytes  = 8 << 20
	maxSteps  = 200_000 // motions, comments and events of a file
	maxFaults = 10      // that are told one by one
)

// Read reads a file that holds one program. The file's name is for messages. What is wrong with the content comes
// back as Faults: what cannot be read of all lines, else the first thing that cannot be carried out; another error
// is the reader's own.
func Read(file string, from io.Reader) (*Program, error) {
	all, err := ReadAll(file, from)
	if err != nil {
		return nil, err
	}
	if len(all) > 1 {
		return nil, Faults{{File: file, Line: all[0].Lines, What: "M0 stops within the program; only runs of several works have stops"}}
	}
	return all[0], nil
}

// ReadAll reads a file of one or more programs, each but the last ended by a stop, M0. Errors are as in Read.
func ReadAll(file string, from io.Reader) ([]*Program, error) {
	text, err := io.ReadAll(io.LimitReader(from, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if len(text) > maxBytes {
		return nil, Faults{{File: file, What: fmt.Sprintf("too long for a program: at most %d MB are read", maxBytes>>20)}}
	}
	r := &reader{file: file}
	r.begin()
	for raw := range bytes.SplitSeq(text, []byte("\n")) {
		r.number++
		if r.line(strings.TrimSuffix(string(raw), "\r")); r.steps > maxSteps || len(r.faults) > maxFaults {
			break
		}
	}
	return r.end(bytes.HasSuffix(text, []byte("\n")))
}

// reader reads a file line by line.
type reader struct {
	file     string
	number   int // of the line
	percents int
	first    bool // a line that is not empty has been read
	begun    bool // the program has words
	ended    bool
	steps    int
	programs []*Program
	machine  *machine
	block    block  // of the line
	faults   Faults // lines that cannot be read
	stuck    *Fault // what cannot be carried out
}

// begin begins a program.
func (r *reader) begin() {
	p := &Program{File: r.file}
	r.programs, r.machine, r.begun = append(r.programs, p), newMachine(p), false
}

// refuse notes what cannot be read.
func (r *reader) refuse(column int, format string, args ...any) {
	switch n := len(r.faults); {
	case n == maxFaults:
		r.faults = append(r.faults, &Fault{File: r.file, Line: r.number, What: "and more from here on"})
	case n < maxFaults:
		r.faults = append(r.faults, &Fault{File: r.file, Line: r.number, Column: column, What: fmt.Sprintf(format, args...)})
	}
}

// line reads one line, and carries it out.
func (r *reader) line(text string) {
	if i := strings.IndexFunc(text, func(c rune) bool { return (c < ' ' || c > '~') && c != '\t' }); i >= 0 {
		r.odd(text, i)
		return
	}
	if strings.TrimSpace(text) == "" {
		return
	}
	p := r.machine.p
	b := scan(&r.block, text, r.number, r.comment, r.refuse)
	switch {
	case b.percent && !r.first:
		r.percents++
	case b.percent && r.percents == 1:
		r.percents, r.ended = 2, true
	case b.percent:
		r.refuse(1, "%% stands in the first and the last line, or in neither")
	case r.ended && b.anything:
		r.refuse(1, "comes after the program's end")
	case b.anything:
		r.begun = true
		before := len(p.Motions) + len(p.Events)
		r.carry(b)
		r.steps += len(p.Motions) + len(p.Events) - before
	}
	r.first = true
	if r.steps > maxSteps && r.stuck == nil {
		r.stuck = &Fault{File: r.file, Line: r.number, What: tooMuch().What}
	}
}

// odd refuses a character that controls may take for something else.
func (r *reader) odd(text string, at int) {
	switch text[at] {
	case '\r':
		r.refuse(at+1, "a carriage return within the line: controls do not agree whether a new line begins there")
	default:
		r.refuse(at+1, "%.6q is no printable ASCII character: controls do not agree what it is", text[at:])
	}
}

// comment takes a comment.
func (r *reader) comment(c Comment) {
	if word := Active(c.Text); word != "" {
		r.refuse(c.Column, "controls carry out a comment that begins with %s; write it otherwise", word)
	}
	c.Head = !r.begun
	r.machine.p.Comments = append(r.machine.p.Comments, c)
	r.steps++
}

// carry carries a line out. Behind what cannot be read or carried out, nothing is.
func (r *reader) carry(b *block) {
	m := r.machine
	if r.stuck == nil && len(r.faults) == 0 {
		if r.stuck = m.run(b); r.stuck != nil {
			r.stuck.File, r.stuck.Line = r.file, b.line
		}
	}
	if w := b.m[stopping]; w.letter != 0 {
		m.p.Lines = b.line
		if r.ended = w.code() != 0; !r.ended {
			m.p.Stopped = true
			r.begin()
		}
	}
}

// end is what was read.
func (r *reader) end(newline bool) ([]*Program, error) {
	if newline {
		r.number--
	}
	r.machine.p.Lines = max(r.number, 1)
	switch {
	case len(r.faults) > 0:
		return nil, r.faults
	case r.stuck != nil:
		return nil, Faults{r.stuck}
	case !r.ended:
		return nil, Faults{{File: r.file, Line: max(r.number, 1), What: "the program has no end: M2, M30 or a second % is missing"}}
	}
	for _, p := range r.programs {
		p.Of = len(r.programs)
	}
	return r.programs, nil
}

func tooMuch() *Fault {
	return &Fault{What: fmt.Sprintf("too long for a program: at most %d motions, settings and comments are read", maxSteps)}
}

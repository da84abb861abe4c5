// Package runs joins programs into one, so that a machine's operator starts one program for many works, and reads
// such a run again to prove it.
//
// A run is plain RS274/NGC. Each work begins with a comment that numbers and names it, goes on with its own program,
// head and all, and ends with a stop (M0), the spindle off and the tool at the safe height; the last one ends the
// program. Since each states all of the modes that it needs, what comes before it does not matter, and each is
// proved by itself. Where works end is told by the stops alone: every byte of a run is part of one of its programs.
package runs

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"

	"formbuck/buck/program/ngc"
)

// Work is one program of a run.
type Work struct {
	Name    string       // what is put on the machine: one line
	Text    []byte       // of its program, for Join
	Line    int          // of the run where it begins, from 1; Join and Read tell it
	Program *ngc.Program // as Read finds it
}

// The errors of Join.
var (
	ErrNone = errors.New("there is no work to join")
	ErrEnd  = errors.New("the program does not end with M2")
)

// mark is the comment that begins a work.
var mark = regexp.MustCompile(`^WORK ([0-9]+) OF ([0-9]+): (.*)$`)

// longest is how long names and titles may be, in characters.
const longest = 160

// Join makes one program of several, and notes in which line each begins. The title is for people. A program that
// does not end with M2, apart from a last %, cannot be joined; what was joined is read again.
func Join(title string, works []Work) ([]byte, error) {
	if len(works) == 0 {
		return nil, ErrNone
	}
	var b bytes.Buffer
	sign := "" // plain programs stand between no signs
	if bytes.HasPrefix(bytes.TrimSpace(works[0].Text), []byte("%")) {
		sign = "%\n"
	}
	fmt.Fprintf(&b, "%s(%s)\n", sign, comment(title))
	fmt.Fprintf(&b, "(%d works. The machine stops after each: change the work, check pins, clamps and zero, then go on.)\n", len(works))
	line := 1 + bytes.Count(b.Bytes(), []byte("\n"))
	for i, w := range works {
		text, ended := body(w.Text)
		if !ended {
			return nil, fmt.Errorf("%s: %w", w.Name, ErrEnd)
		}
		works[i].Line = line
		from := b.Len()
		fmt.Fprintf(&b, "(WORK %d OF %d: %s)\n", i+1, len(works), comment(w.Name))
		b.Write(text)
		if i < len(works)-1 {
			b.WriteString("M0\n")
		} else {
			b.WriteString("M2\n" + sign)
		}
		line += bytes.Count(b.Bytes()[from:], []byte("\n"))
	}
	if _, err := Read("run", bytes.NewReader(b.Bytes())); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// comment is a text as it may stand in a comment, on one line.
func comment(text string) string {
	text = ngc.Plain(text)
	return text[:min(len(text), longest)]
}

// body is a program without the % around it and the M2 at its end, which has to be there.
func body(text []byte) ([]byte, bool) {
	text = bytes.TrimSpace(text)
	text = bytes.TrimSpace(bytes.TrimSuffix(bytes.TrimPrefix(text, []byte("%")), []byte("%")))
	rest, ended := bytes.CutSuffix(text, []byte("\nM2"))
	return append(bytes.Clone(rest), '\n'), ended
}

// Read reads a run; a program that is no run is its only work, without a name. Works are what stops part, and each
// has to begin with its mark, before anything is done. What is wrong comes back as ngc.Faults.
func Read(file string, from io.Reader) ([]Work, error) {
	programs, err := ngc.ReadAll(file, from)
	if err != nil {
		return nil, err
	}
	works := make([]Work, len(programs))
	for i, p := range programs {
		if works[i], err = begun(p, i+1, len(programs)); err != nil {
			return nil, err
		}
	}
	return works, nil
}

// begun finds the mark of a work.
func begun(p *ngc.Program, number, of int) (Work, error) {
	var marks []ngc.Comment
	for _, c := range p.Comments {
		if mark.MatchString(c.Text) {
			marks = append(marks, c)
		}
	}
	switch {
	case len(marks) == 0 && of > 1:
		return Work{}, refuse(p, p.Lines, "what ends in this line begins with no comment such as WORK %d OF %d: NAME", number, of)
	case len(marks) == 0:
		return Work{Program: p, Line: 1}, nil
	case len(marks) > 1:
		return Work{}, refuse(p, marks[1].Line, "another work begins here, and work %d has not ended with M0", number)
	}
	c := marks[0]
	m := mark.FindStringSubmatch(c.Text)
	switch {
	case !c.Head:
		return Work{}, refuse(p, c.Line, "something is done before work %s begins", m[1])
	case m[1] != strconv.Itoa(number) || m[2] != strconv.Itoa(of):
		return Work{}, refuse(p, c.Line, "work %s of %s is announced, and it is work %d of %d", m[1], m[2], number, of)
	}
	return Work{Program: p, Line: c.Line, Name: m[3]}, nil
}

func refuse(p *ngc.Program, line int, format string, args ...any) error {
	return ngc.Faults{{File: p.File, Line: line, What: fmt.Sprintf(format, args...)}}
}

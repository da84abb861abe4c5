// Package runs joins programs into one, so that a machine's operator starts one program for many works, and takes
// such a run apart again to prove it.
//
// A run is plain RS274/NGC. Each work begins with a comment that numbers and names it and a message to the
// operator, goes on with its own program, head and all, and ends with a stop (M0), the spindle off and the
// tool at the safe height; the last one ends the program. Since each states all of the modes that it needs,
// what comes before it does not matter, and each is proved by itself.
package runs

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Work is one program of a run.
type Work struct {
	Name string // what is put on the machine: one line
	Text []byte // of its program
	Line int    // of the run where it begins, from 1; Join and Split tell it
}

// The errors of Join.
var (
	ErrNone = errors.New("there is no work to join")
	ErrEnd  = errors.New("the program does not end with M2")
)

// mark begins a work.
var mark = regexp.MustCompile(`^\(WORK ([0-9]+) OF ([0-9]+): (.*)\)$`)

// Join makes one program of several, and notes in which line each begins. The title is for people. A program that does not end with M2, apart from a
// last %, cannot be joined.
func Join(title string, works []Work) ([]byte, error) {
	if len(works) == 0 {
		return nil, ErrNone
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "%%\n(%s)\n", comment(title))
	fmt.Fprintf(&b, "(%d works. The machine stops after each: change the work, check pins, clamps and zero, then go on.)\n", len(works))
	line := 1 + bytes.Count(b.Bytes(), []byte("\n"))
	for i, w := range works {
		text, ended := body(w.Text)
		if !ended {
			return nil, fmt.Errorf("%s: %w", w.Name, ErrEnd)
		}
		works[i].Line = line
		from := b.Len()
		fmt.Fprintf(&b, "(WORK %d OF %d: %s)\n(MSG, put on %s)\n", i+1, len(works), comment(w.Name), comment(w.Name))
		b.Write(text)
		if i < len(works)-1 {
			b.WriteString("M0\n")
		} else {
			b.WriteString("M2\n%\n")
		}
		line += bytes.Count(b.Bytes()[from:], []byte("\n"))
	}
	return b.Bytes(), nil
}

// comment is a text without what ends a comment.
func comment(text string) string {
	return strings.NewReplacer("(", "[", ")", "]", "\n", " ", ";", ",").Replace(text)
}

// body is a program without the % around it and the M2 at its end, which has to be there.
func body(text []byte) ([]byte, bool) {
	text = bytes.TrimSpace(text)
	text = bytes.TrimSpace(bytes.TrimSuffix(bytes.TrimPrefix(text, []byte("%")), []byte("%")))
	rest, ended := bytes.CutSuffix(text, []byte("\nM2"))
	return append(bytes.Clone(rest), '\n'), ended
}

// Split takes a run apart. Each work's program is padded with empty lines, so that its lines have the numbers that
// they have in the run. A program that is no run is its only work, as it is and without a name. The error is that
// works are missing, or that one is followed by something other than a stop.
func Split(text []byte) ([]Work, error) {
	lines := bytes.Split(text, []byte("\n"))
	var works []Work
	var of int
	for i, line := range lines {
		m := mark.FindSubmatch(bytes.TrimSpace(line))
		if m == nil {
			continue
		}
		number, _ := strconv.Atoi(string(m[1]))
		of, _ = strconv.Atoi(string(m[2]))
		if number != len(works)+1 {
			return nil, fmt.Errorf("line %d: work %d comes after work %d", i+1, number, len(works))
		}
		works = append(works, Work{Name: string(m[3]), Line: i + 1})
	}
	if len(works) == 0 {
		return []Work{{Text: text, Line: 1}}, nil
	}
	if of != len(works) {
		return nil, fmt.Errorf("%d works are announced, and there are %d", of, len(works))
	}
	if at := moving(lines[:works[0].Line-1]); at > 0 {
		return nil, fmt.Errorf("line %d: something is done before the first work", at)
	}
	for i := range works {
		end := len(lines)
		if i < len(works)-1 {
			end = works[i+1].Line - 1
		}
		part, err := section(lines[works[i].Line:end], works[i].Line, i == len(works)-1)
		if err != nil {
			return nil, err
		}
		works[i].Text = append(bytes.Repeat([]byte("\n"), works[i].Line), part...)
	}
	return works, nil
}

// moving is the first line that is neither empty, a % nor a comment; 0: there is none.
func moving(lines [][]byte) int {
	for i, line := range lines {
		line = bytes.TrimSpace(line)
		if len(line) > 0 && !bytes.Equal(line, []byte("%")) && line[0] != '(' && line[0] != ';' {
			return i + 1
		}
	}
	return 0
}

// section is a work's lines with the stop at their end, which has to be there, made the end of a program.
func section(lines [][]byte, before int, last bool) ([]byte, error) {
	if last {
		text := bytes.TrimRight(bytes.Join(lines, []byte("\n")), " \r\n\t")
		if len(text) == 0 {
			return nil, fmt.Errorf("line %d: the work is empty", before)
		}
		return append(bytes.TrimSuffix(text, []byte("\n%")), '\n'), nil
	}
	for i := len(lines) - 1; i >= 0; i-- {
		switch line := bytes.TrimSpace(lines[i]); {
		case len(line) == 0:
			continue
		case bytes.Equal(line, []byte("M0")):
			ended := slices.Clone(lines)
			ended[i] = []byte("M2")
			return bytes.Join(ended, []byte("\n")), nil
		default:
			return nil, fmt.Errorf("line %d: the work does not end with M0, so that the next one would begin without a stop", before+i+1)
		}
	}
	return nil, fmt.Errorf("line %d: the work is empty", before)
}

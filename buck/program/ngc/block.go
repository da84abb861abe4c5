package ngc

import (
	"math"
	"strconv"
	"strings"
)

// word is a letter and its number.
type word struct {
	letter byte
	value  float64
	text   string // as written, without spaces
	line   int
	column int
}

// code is a G or M word in tenths: 911 for G91.1.
func (w word) code() int { return int(math.Round(w.value * 10)) }

// block is one line.
type block struct {
	line     int
	letters  ['Z' - 'A' + 1]word // all but G and M
	g, m     [groups]word        // by their group
	percent  bool
	anything bool // but comments
}

// word is the line's word with the letter.
func (b *block) word(letter byte) (word, bool) {
	w := b.letters[letter-'A']
	return w, w.letter != 0
}

// take takes the word with the letter out of the line.
func (b *block) take(letter byte) (word, bool) {
	w, ok := b.word(letter)
	b.letters[letter-'A'] = word{}
	return w, ok
}

// axes tells whether the line names a place.
func (b *block) axes() bool {
	return b.letters['X'-'A'].letter != 0 || b.letters['Y'-'A'].letter != 0 || b.letters['Z'-'A'].letter != 0
}

// group is a modal group: of each a line holds one word at most.
type group uint8

const (
	motion group = iota + 1
	plane
	distance
	arcDistance
	feedMode
	units
	compensation
	lengthOffset
	retract
	coordinates
	pathControl
	stopping
	toolChange
	spindle
	coolant
	dwell
	groups
)

// gGroups and mGroups are the words that are read, in tenths (NIST IR 6556, table 4, from memory).
var (
	gGroups = map[int]group{
		0: motion, 10: motion, 20: motion, 30: motion, 800: motion, 810: motion, 820: motion, 830: motion,
		170: plane, 900: distance, 910: distance, 911: arcDistance, 940: feedMode, 200: units, 210: units,
		400: compensation, 490: lengthOffset, 980: retract, 990: retract, 540: coordinates, 610: pathControl, 640: pathControl, 40: dwell,
	}
	mGroups = map[int]group{0: stopping, 20: stopping, 300: stopping, 60: toolChange, 30: spindle, 50: spindle, 70: coolant, 80: coolant, 90: coolant}
)

// why some words are refused that are common elsewhere.
var why = map[string]string{
	"G18": "arcs are read in the plane from above, G17", "G19": "arcs are read in the plane from above, G17",
	"G41": "cutter compensation is left to no machine: write the path of the tool's centre",
	"G42": "cutter compensation is left to no machine: write the path of the tool's centre",
	"G43": "heights count from the tool's point: touch off every tool", "G90.1": "centres of arcs count from their beginning, G91.1",
	"G28": "where the machine's own positions lie is not known here", "G30": "where the machine's own positions lie is not known here",
	"G53": "where the machine's own positions lie is not known here", "G92": "zero moves within the program",
	"M1":  "whether it stops depends on a switch of the machine",
	"G93": "feeds are per minute, G94", "G95": "feeds are per minute, G94", "M4": "drills and cutters turn clockwise, M3",
}

const (
	letters = "NGMFSTXYZIJRPQL"
	maxLine = 256 // characters; NIST IR 6556, from memory
)

// scan takes one line apart; refuse is told what is wrong, and at which column. The block is emptied first, and is the
// same for all lines of a file.
func scan(b *block, text string, line int, comment func(Comment), refuse func(column int, format string, args ...any)) *block {
	*b = block{line: line}
	if len(text) > maxLine {
		refuse(maxLine+1, "the line has %d characters, and %d are allowed", len(text), maxLine)
		return b
	}
	if strings.TrimSpace(text) == "%" {
		b.percent = true
		return b
	}
	for i := 0; i < len(text); {
		switch c := text[i]; {
		case c == ' ' || c == '\t':
			i++
		case c == ';':
			comment(Comment{Text: text[i+1:], Line: line, Column: i + 1})
			return b
		case c == '(':
			end := strings.IndexAny(text[i+1:], "()")
			if end < 0 || text[i+1+end] == '(' {
				refuse(i+1, "the comment is not closed")
				return b
			}
			comment(Comment{Text: text[i+1 : i+1+end], Line: line, Column: i + 1})
			i += end + 2
		default:
			w, next, ok := scanWord(text, i, refuse)
			if !ok {
				return b
			}
			w.line = line
			b.add(w, refuse)
			i = next
		}
	}
	return b
}

// scanWord reads a letter and its number.
func scanWord(text string, i int, refuse func(int, string, ...any)) (w word, next int, ok bool) {
	c := text[i]
	if 'a' <= c && c <= 'z' {
		c -= 'a' - 'A'
	}
	if !strings.ContainsRune(letters, rune(c)) || c >= 0x80 {
		switch {
		case c == '/':
			refuse(i+1, "block delete makes the line depend on a switch of the machine")
		case c == '#' || c == '[' || c == 'O':
			refuse(i+1, "parameters, expressions and subprograms are not read here")
		case '0' <= c && c <= '9' || c == '.' || c == '+' || c == '-':
			refuse(i+1, "a number without a letter before it")
		default:
			refuse(i+1, "%q begins no word that is read here; the letters are %s", text[i:i+1], letters)
		}
		return w, 0, false
	}
	j := i + 1
	for j < len(text) && (text[j] == ' ' || text[j] == '\t') {
		j++
	}
	k := j
	for k < len(text) && (text[k] >= '0' && text[k] <= '9' || text[k] == '.' || k == j && (text[k] == '-' || text[k] == '+')) {
		k++
	}
	number := text[j:k]
	value, err := strconv.ParseFloat(number, 64)
	if err != nil || math.Abs(value) > 1e7 {
		refuse(i+1, "%c is followed by no number that can be read: %q", c, number)
		return w, 0, false
	}
	return word{letter: c, value: value, text: string(c) + number, column: i + 1}, k, true
}

// add puts a word into its place in the block.
func (b *block) add(w word, refuse func(int, string, ...any)) {
	if w.letter == 'N' {
		if b.anything || w.value < 0 || w.value != math.Trunc(w.value) {
			refuse(w.column, "a line's number is whole and comes first")
		}
		b.anything = true
		return
	}
	b.anything = true
	switch w.letter {
	case 'G':
		modal(w, gGroups, &b.g, refuse)
	case 'M':
		modal(w, mGroups, &b.m, refuse)
	default:
		if before, twice := b.word(w.letter); twice {
			refuse(w.column, "%c is in the line twice, before at column %d", w.letter, before.column)
			return
		}
		b.letters[w.letter-'A'] = w
	}
}

// modal puts a G or M word into its group.
func modal(w word, known map[int]group, into *[groups]word, refuse func(int, string, ...any)) {
	in, ok := known[w.code()]
	if !ok || math.Abs(w.value*10-float64(w.code())) > 1e-9 || w.value < 0 {
		name := string(w.letter) + strconv.FormatFloat(w.value, 'f', -1, 64)
		if reason := why[name]; reason != "" {
			refuse(w.column, "%s is not read here: %s", name, reason)
		} else {
			refuse(w.column, "%s is not read here; G0-4, 17, 20, 21, 40, 49, 54, 61, 64, 80-83, 90, 91, 91.1, 94, 98, 99 and M0, 2, 3, 5-9, 30 are", name)
		}
		return
	}
	if before := into[in]; before.letter != 0 {
		refuse(w.column, "%s and %s exclude each other", before.text, w.text)
		return
	}
	into[in] = w
}

package variant

import (
	"bytes"
	"errors"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"formbuck/buck/quantity"

	"github.com/pelletier/go-toml/v2/unstable"
)

// slip is a line that is not TOML.
type slip struct {
	fault      *Fault
	start, end int  // of the line, in bytes
	plain      bool // the line is a key = value by itself, so that the next can be read
}

// findSlip finds the line that the parser stopped at, and what its writer may have meant.
func (r *reader) findSlip(err error) slip {
	src, offset, message := r.doc.source, len(r.doc.source.text), err.Error()
	var broken *unstable.ParserError
	if errors.As(err, &broken) {
		offset, message = cap(r.p.Data())-cap(broken.Highlight), broken.Message
	}
	start, end := src.lineAround(offset)
	s := slip{
		fault: &Fault{At: src.position(offset), Problem: Syntax, What: "not TOML: " + message},
		start: start, end: end,
	}
	line := src.text[start:end]
	key := regexp.MustCompile(`^[ \t]*([A-Za-z0-9_.-]+)[ \t]*=[ \t]*`).FindSubmatchIndex(line)
	if key == nil || offset < start+key[3] {
		return s
	}
	written, _, _ := bytes.Cut(line[key[1]:], []byte{'#'})
	found := strings.Map(printable, strings.TrimSpace(string(written)))
	s.plain = !strings.ContainsAny(found, "[{") && !strings.Contains(found, `"""`) && !strings.Contains(found, "'''")
	s.fault.Found = shortened(found)
	if s.fault.Hint = hintForSlip(found); s.fault.Hint != "" {
		s.fault.What = "" // the parser's words would lead elsewhere
	}
	if path := join(r.table, string(line[key[2]:key[3]])); !r.skip && r.known.byPath[path] != nil {
		s.fault.Key = path
	}
	if s.plain {
		s.fault.At = src.position(start + key[1])
	}
	return s
}

// printable is the rune, or a question mark for what would break a message's line.
func printable(r rune) rune {
	if unicode.IsControl(r) || !unicode.IsGraphic(r) {
		return '?'
	}
	return r
}

var (
	fraction = regexp.MustCompile(`^([0-9]+[ -]+)?[0-9]+/[0-9]+$`)        // 1/8, 1 1/4
	trailing = regexp.MustCompile(`^("[^"\\]*"|'[^']*'|[0-9.+-]+)[;,]+$`) // a value and what other languages end a line with
)

// hintForSlip says how to write a value that is not TOML but that a person can read.
func hintForSlip(written string) string {
	_, length := quantity.ParseLength(written)
	_, angle := quantity.ParseAngle(written)
	_, share := quantity.ParseShare(written)
	var fault *quantity.Error
	switch {
	case written == "":
		return "write a value, or put # before the line"
	case length == nil || angle == nil || share == nil:
		return "put the quantity in quotes: " + quoted(written)
	case fraction.MatchString(written):
		return `write a fraction in quotes and with its unit: "` + written + ` in"`
	case strings.HasPrefix(written, `"`) && strings.Contains(written, `\`):
		return `write / for \ in a path, or put it in single quotes: '` + strings.Trim(written, `"`) + "'"
	case trailing.MatchString(written):
		return "leave out what follows the value: " + trailing.FindStringSubmatch(written)[1]
	case strings.ContainsAny(written, "“”„‘’«»"):
		return `write straight quotes: "`
	case errors.As(length, &fault) && fault.Fault == quantity.Comma:
		return "write a decimal point, not a comma"
	case regexp.MustCompile(`^[+-]?\.[0-9]`).MatchString(written):
		return "write a digit before the decimal point"
	case regexp.MustCompile(`^[+-]?[0-9]+\.$`).MatchString(written):
		return "write a digit after the decimal point, or leave the point out"
	case regexp.MustCompile(`^[A-Za-z][^"]*$`).MatchString(written):
		return "put text in quotes"
	default:
		return ""
	}
}

// quoted is the text as a TOML string; an inch mark asks for single quotes.
func quoted(text string) string {
	if strings.ContainsAny(text, `"\`) && !strings.Contains(text, "'") {
		return "'" + text + "'"
	}
	return strconv.Quote(text)
}

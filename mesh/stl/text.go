package stl

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/hschendel/stl"
)

// isText tells whether data is a text that begins with solid, in any case. Binary files that begin
// so have a zero byte in the header or count.
func isText(data []byte) bool {
	start := bytes.TrimLeft(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), " \t\r\n")
	return len(start) >= 5 && bytes.EqualFold(start[:5], []byte("solid")) && printable(data[:min(len(data), 512)])
}

// printable tells whether data holds no control characters other than white space.
func printable(data []byte) bool {
	for _, c := range data {
		if c < ' ' && !isSpace(c) {
			return false
		}
	}
	return true
}

// isSpace tells whether a byte parts words: everything that any writer is known to put between them.
func isSpace(c byte) bool { return c == ' ' || c >= '\t' && c <= '\r' }

// scanner reads words and keeps count of lines. A line ends with LF, CR LF or CR.
type scanner struct {
	data []byte
	at   int
	line int
}

// skip passes over white space.
func (s *scanner) skip() {
	for s.at < len(s.data) && isSpace(s.data[s.at]) {
		if c := s.data[s.at]; c == '\n' || c == '\r' && !(s.at+1 < len(s.data) && s.data[s.at+1] == '\n') {
			s.line++
		}
		s.at++
	}
}

// word is the next word, empty at the end.
func (s *scanner) word() []byte {
	s.skip()
	from := s.at
	for s.at < len(s.data) && !isSpace(s.data[s.at]) {
		s.at++
	}
	return s.data[from:s.at]
}

// rest is what is left of the line, without the white space around it. It ends early before the
// words "facet normal", so that a file on one line can be read.
func (s *scanner) rest() string {
	end := s.at
	for end < len(s.data) && s.data[end] != '\n' && s.data[end] != '\r' {
		if s.facetAt(end) {
			break
		}
		end++
	}
	text := s.data[s.at:end]
	s.at = end
	return title(string(text))
}

// facetAt tells whether the words "facet normal" begin there.
func (s *scanner) facetAt(at int) bool {
	const first, second = "facet", "normal"
	if at == 0 || !isSpace(s.data[at-1]) || s.data[at]|0x20 != 'f' {
		return false
	}
	ahead := scanner{data: s.data, at: at}
	return is(ahead.word(), first) && is(ahead.word(), second)
}

// is compares a word with a keyword, in any case.
func is(word []byte, keyword string) bool {
	if len(word) != len(keyword) {
		return false
	}
	for i, c := range word {
		if c >= 'A' && c <= 'Z' {
			c |= 0x20
		}
		if c != keyword[i] {
			return false
		}
	}
	return true
}

// title is a name fit to be shown: printable ASCII without the white space around it.
func title(s string) string {
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return -1
		}
		return r
	}, s)
	return strings.TrimSpace(clean)
}

// textReader reads a text facet by facet.
type textReader struct {
	scanner
	builder
}

// decodeText reads a text.
func decodeText(data []byte) (*File, error) {
	r := &textReader{scanner: scanner{data: bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), line: 1}}
	var solids []Solid
	for {
		word := r.word()
		if len(word) == 0 {
			break
		}
		if !is(word, "solid") {
			if len(solids) > 0 {
				return nil, r.fault(Trailing, "%s after endsolid, expected the end or solid", quote(word))
			}
			return nil, r.fault(Syntax, "%s, expected solid", quote(word))
		}
		s, err := r.solid()
		if err != nil {
			return nil, err
		}
		solids = append(solids, s)
	}
	if len(r.tris) == 0 {
		return nil, r.fault(Empty, "no facet")
	}
	return r.file(Text, solids), nil
}

// solid reads from behind the word solid to the end of the line with endsolid.
func (r *textReader) solid() (Solid, error) {
	s := Solid{Name: r.rest()}
	for {
		switch word := r.word(); {
		case is(word, "facet"):
			if err := r.facet(); err != nil {
				return s, err
			}
			s.Triangles++
		case is(word, "endsolid"):
			r.rest()
			return s, nil
		case len(word) == 0:
			return s, r.fault(Cut, "the text ends without endsolid")
		default:
			return s, r.fault(Syntax, "%s, expected facet or endsolid", quote(word))
		}
	}
}

// facet reads from behind the word facet to endfacet.
func (r *textReader) facet() error {
	var normal stl.Vec3
	var corners [3]stl.Vec3
	if err := r.expect("normal"); err != nil {
		return err
	}
	if err := r.vector(&normal, true); err != nil {
		return err
	}
	if err := r.expect("outer", "loop"); err != nil {
		return err
	}
	for k := range corners {
		if err := r.expect("vertex"); err != nil {
			return err
		}
		if err := r.vector(&corners[k], false); err != nil {
			return err
		}
	}
	if err := r.expect("endloop", "endfacet"); err != nil {
		return err
	}
	r.add(&normal, &corners)
	return nil
}

// expect reads the given words.
func (r *textReader) expect(keywords ...string) error {
	for _, k := range keywords {
		if word := r.word(); len(word) == 0 {
			return r.fault(Cut, "the text ends inside a facet, expected %s", k)
		} else if !is(word, k) {
			return r.fault(Syntax, "%s, expected %s", quote(word), k)
		}
	}
	return nil
}

// vector reads three numbers. In a normal any word will do: facets without area are often given
// "nan" in one spelling or another.
func (r *textReader) vector(v *stl.Vec3, normal bool) error {
	for k := range v {
		word := r.word()
		if len(word) == 0 {
			return r.fault(Cut, "the text ends inside a facet, expected a number")
		}
		x, err := strconv.ParseFloat(string(word), 32)
		if c := class(word, x, err); c != 0 && !normal {
			return r.fault(c, "%s", quote(word))
		}
		v[k] = float32(x)
	}
	return nil
}

// decimal tells numbers of the format from those that only Go knows, such as 0x1p3 and 1_000.
func decimal(word []byte) bool {
	for _, c := range word {
		if c == '_' || c|0x20 == 'x' {
			return false
		}
	}
	return true
}

// class is what is wrong with a coordinate, 0 if nothing. C libraries write numbers that are none as
// "-nan(ind)" or "1.#INF" too.
func class(word []byte, x float64, err error) Class {
	switch {
	case err == nil && x-x == 0 && decimal(word):
		return 0
	case err == nil && x-x == 0:
		return Number
	case errors.Is(err, strconv.ErrRange):
		return Overflow
	case err == nil:
		return NonFinite
	}
	for _, sign := range []string{"nan", "inf", "1.#"} {
		if bytes.Contains(bytes.ToLower(word), []byte(sign)) {
			return NonFinite
		}
	}
	return Number
}

// fault is an error at the line that was read last.
func (r *textReader) fault(c Class, format string, args ...any) *Error {
	return &Error{Class: c, Line: r.line, Triangle: len(r.tris), Found: fmt.Sprintf(format, args...)}
}

// quote is a word as a message shows it: not too long, nothing unprintable.
func quote(word []byte) string {
	const most = 40
	if len(word) > most {
		return strconv.QuoteToASCII(string(word[:most])) + "..."
	}
	return strconv.QuoteToASCII(string(word))
}

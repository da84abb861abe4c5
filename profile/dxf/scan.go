package dxf

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strconv"
)

// scanner takes a file apart into pairs of group code and value.
type scanner struct {
	data   []byte
	pos    int
	lines  int  // lines taken so far; in a binary file, the lines its text form would have
	binary bool // binary DXF
	wide   bool // group codes of two bytes

	// the pair last read
	code int
	text []byte  // value without blanks round it; for a number of a binary file, nil
	num  float64 // value of a number of a binary file
	line int     // of the value

	end   bool
	class Class // of what ended the scan too early, empty at a proper end
	what  string
}

// sentinel opens a binary DXF file.
const sentinel = "AutoCAD Binary DXF\r\n\x1a\x00"

// next reads the next pair that is not a comment. It is false at the end of the data and at a pair
// that cannot be read; class then says which.
func (s *scanner) next() bool {
	for !s.end {
		ok := false
		if s.binary {
			ok = s.nextBinary()
		} else {
			ok = s.nextText()
		}
		if !ok {
			s.end = true
			return false
		}
		if s.code != 999 {
			return true
		}
	}
	return false
}

// fail ends the scan.
func (s *scanner) fail(c Class, format string, args ...any) bool {
	s.class, s.what, s.line = c, fmt.Sprintf(format, args...), s.lines
	return false
}

func (s *scanner) nextText() bool {
	raw, ok := s.readLine()
	if !ok {
		return false
	}
	code, ok := parseCode(raw)
	if !ok {
		const blanks = " \t\r\n\x00\x1a" // with the end-of-file mark of old systems
		if len(bytes.Trim(raw, blanks)) == 0 && len(bytes.Trim(s.data[s.pos:], blanks)) == 0 {
			return false
		}
		return s.fail(BadNumber, "group code expected, found %s", quote(raw))
	}
	s.code = code
	s.text, ok = s.readLine()
	if !ok {
		return s.fail(Truncated, "file ends after group code %d, without its value", code)
	}
	s.text = trim(s.text)
	s.line = s.lines
	return true
}

// readLine is the next line without its end: LF, CR LF or CR.
func (s *scanner) readLine() ([]byte, bool) {
	if s.pos >= len(s.data) {
		return nil, false
	}
	rest := s.data[s.pos:]
	for i, c := range rest {
		if c != '\n' && c != '\r' {
			continue
		}
		s.pos += i + 1
		if c == '\r' && i+1 < len(rest) && rest[i+1] == '\n' {
			s.pos++
		}
		s.lines++
		return rest[:i], true
	}
	s.pos = len(s.data)
	s.lines++
	return rest, true
}

// trim is b without the blanks round it.
func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] == ' ' || b[len(b)-1] == '\t') {
		b = b[:len(b)-1]
	}
	return b
}

// parseCode is a group code, -5 to 1071 in practice, up to five digits here.
func parseCode(b []byte) (int, bool) {
	b = trim(b)
	neg := false
	if len(b) > 1 && b[0] == '-' {
		neg, b = true, b[1:]
	}
	if len(b) == 0 || len(b) > 5 {
		return 0, false
	}
	n := 0
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = 10*n + int(c-'0')
	}
	if neg {
		n = -n
	}
	return n, true
}

// float is the value of the last pair as a number. The error is errNotFinite for a number beyond
// float64, an infinity or none at all.
func (s *scanner) float() (float64, error) {
	if s.text == nil {
		if math.IsNaN(s.num) || math.IsInf(s.num, 0) {
			return 0, errNotFinite
		}
		return s.num, nil
	}
	return parseFloat(s.text)
}

// value is the last pair's value as it stands, for messages.
func (s *scanner) value() string {
	if s.text == nil {
		return strconv.FormatFloat(s.num, 'g', -1, 64)
	}
	return quote(s.text)
}

// quote is a value of the file, quoted and cut to a readable length.
func quote(b []byte) string {
	if len(b) > 40 {
		return strconv.Quote(string(b[:37])) + "..."
	}
	return strconv.Quote(string(b))
}

// nextBinary reads a pair of a binary file.
func (s *scanner) nextBinary() bool {
	if s.pos >= len(s.data) {
		return false
	}
	s.lines++
	code, ok := s.binaryCode()
	if !ok {
		return s.fail(Truncated, "file ends within a group code")
	}
	s.code = code
	s.lines++
	s.line = s.lines
	s.text, s.num = nil, 0
	size := valueSize(code)
	switch size {
	case sizeString:
		n := bytes.IndexByte(s.data[s.pos:], 0)
		if n < 0 {
			return s.fail(Truncated, "file ends within the value of group code %d", code)
		}
		s.text = trim(s.data[s.pos : s.pos+n : s.pos+n])
		if s.text == nil {
			s.text = []byte{}
		}
		s.pos += n + 1
		return true
	case sizeChunk:
		if s.pos >= len(s.data) || s.pos+1+int(s.data[s.pos]) > len(s.data) {
			return s.fail(Truncated, "file ends within the value of group code %d", code)
		}
		s.pos += 1 + int(s.data[s.pos])
		s.text = []byte{}
		return true
	case sizeUnknown:
		return s.fail(BadNumber, "group code %d is not one of binary DXF", code)
	}
	return s.binaryNumber(size)
}

func (s *scanner) binaryCode() (int, bool) {
	rest := s.data[s.pos:]
	switch {
	case s.wide && len(rest) >= 2:
		s.pos += 2
		return int(int16(binary.LittleEndian.Uint16(rest))), true
	case s.wide:
		return 0, false
	case rest[0] != 255:
		s.pos++
		return int(rest[0]), true
	case len(rest) >= 3:
		s.pos += 3
		return int(int16(binary.LittleEndian.Uint16(rest[1:]))), true
	}
	return 0, false
}

func (s *scanner) binaryNumber(size int) bool {
	n := size
	if size == sizeDouble {
		n = 8
	}
	if s.pos+n > len(s.data) {
		return s.fail(Truncated, "file ends within the value of group code %d", s.code)
	}
	b := s.data[s.pos : s.pos+n]
	s.pos += n
	switch size {
	case sizeDouble:
		s.num = math.Float64frombits(binary.LittleEndian.Uint64(b))
	case 1:
		s.num = float64(b[0])
	case 2:
		s.num = float64(int16(binary.LittleEndian.Uint16(b)))
	case 4:
		s.num = float64(int32(binary.LittleEndian.Uint32(b)))
	case 8:
		s.num = float64(int64(binary.LittleEndian.Uint64(b)))
	}
	return true
}

// Sizes of a value in binary DXF that are not a number of bytes.
const (
	sizeUnknown = -iota
	sizeString
	sizeChunk
	sizeDouble
)

// valueSize is the size of a value by its group code (DXF Reference, group code value types).
func valueSize(code int) int {
	for _, r := range valueRanges {
		if code >= r.from && code <= r.to {
			return r.size
		}
	}
	return sizeUnknown
}

var valueRanges = [...]struct{ from, to, size int }{
	{0, 9, sizeString},
	{10, 59, sizeDouble},
	{60, 79, 2},
	{90, 99, 4},
	{100, 109, sizeString},
	{110, 149, sizeDouble},
	{160, 169, 8},
	{170, 179, 2},
	{210, 239, sizeDouble},
	{270, 289, 2},
	{290, 299, 1},
	{300, 309, sizeString},
	{310, 319, sizeChunk},
	{320, 369, sizeString},
	{370, 389, 2},
	{390, 399, sizeString},
	{400, 409, 2},
	{410, 419, sizeString},
	{420, 429, 4},
	{430, 439, sizeString},
	{440, 459, 4},
	{460, 469, sizeDouble},
	{470, 481, sizeString},
	{999, 999, sizeString},
	{1004, 1004, sizeChunk},
	{1000, 1009, sizeString},
	{1010, 1059, sizeDouble},
	{1060, 1070, 2},
	{1071, 1071, 4},
	{-5, -1, sizeString},
}

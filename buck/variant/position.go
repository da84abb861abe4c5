package variant

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// Position is a place in a file. Line and Column count from 1, the column in characters; both are 0
// for what is not in the file but stands for the file as a whole, such as a default.
type Position struct {
	File         string
	Line, Column int
}

// String is file:line:column, or the file alone.
func (p Position) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.File == "":
		return fmt.Sprintf("%d:%d", p.Line, p.Column)
	default:
		return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
	}
}

// source is the text of one file.
type source struct {
	file string
	text []byte
}

// position is the place of the byte at the offset.
func (s source) position(offset int) Position {
	before := s.text[:min(max(offset, 0), len(s.text))]
	start := bytes.LastIndexByte(before, '\n') + 1
	return Position{
		File:   s.file,
		Line:   bytes.Count(before, []byte{'\n'}) + 1,
		Column: utf8.RuneCount(before[start:]) + 1,
	}
}

// lineAround is the span of the line that holds the byte at the offset, without its line end.
func (s source) lineAround(offset int) (start, end int) {
	offset = min(max(offset, 0), len(s.text))
	start = bytes.LastIndexByte(s.text[:offset], '\n') + 1
	end = len(s.text)
	if length := bytes.IndexByte(s.text[start:], '\n'); length >= 0 {
		end = start + length
	}
	return start, end
}

// header is the line of the header of a table, 0 where there is none.
func (s source) header(table string) int {
	for i, line := range bytes.Split(s.text, []byte{'\n'}) {
		line, _, _ = bytes.Cut(line, []byte{'#'})
		if inner, opens := bytes.CutPrefix(bytes.TrimSpace(line), []byte{'['}); opens {
			if inner, closes := bytes.CutSuffix(inner, []byte{']'}); closes && string(bytes.TrimSpace(inner)) == table {
				return i + 1
			}
		}
	}
	return 0
}

// lineStart is the offset of the first byte of a line, counted from 1.
func (s source) lineStart(line int) int {
	start := 0
	for ; line > 1; line-- {
		length := bytes.IndexByte(s.text[start:], '\n')
		if length < 0 {
			return start
		}
		start += length + 1
	}
	return start
}

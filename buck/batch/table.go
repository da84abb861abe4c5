package batch

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// parted is a table with what parts its fields: of comma, semicolon and tab the one that leaves the most names of columns
// in the first line. A line such as "sep=;" that spreadsheets put before it is emptied, so that lines keep their numbers.
func parted(text []byte) (table []byte, comma rune) {
	first, rest, _ := bytes.Cut(text, []byte("\n"))
	if len(bytes.TrimSpace(first)) == 0 {
		first, _, _ = bytes.Cut(bytes.TrimSpace(rest), []byte("\n"))
	}
	if mark, found := bytes.CutPrefix(bytes.TrimSpace(first), []byte("sep=")); found && len(mark) == 1 {
		text = append([]byte("\n"), rest...)
		first, _, _ = bytes.Cut(rest, []byte("\n"))
	}
	comma, most := ',', 0
	for _, c := range []rune{',', ';', '\t'} {
		known := 0
		for name := range strings.SplitSeq(string(first), string(c)) {
			if slices.Contains(Columns(), strings.ToLower(strings.Trim(name, " \r\""))) {
				known++
			}
		}
		if known > most {
			comma, most = c, known
		}
	}
	return text, comma
}

// formulaMarks begin a field that a spreadsheet would take for a formula, or for what leads to one.
const formulaMarks = "=+-@\t\r"

// asText is a field that a spreadsheet takes for text: an apostrophe before what it would take for a formula, and before
// an apostrophe, so that it can be taken off again. Common practice; OWASP, "CSV Injection", names the same marks.
func asText(field string) string {
	if field != "" && strings.ContainsAny(field[:1], formulaMarks+"'") {
		return "'" + field
	}
	return field
}

// asRead takes off what asText put before a field.
func asRead(field string) string {
	if rest, put := strings.CutPrefix(field, "'"); put && rest != "" && strings.ContainsAny(rest[:1], formulaMarks+"'") {
		return rest
	}
	return field
}

// writeTable writes records as CSV whose fields a spreadsheet takes for what they are.
func writeTable(to io.Writer, records [][]string) error {
	w := csv.NewWriter(to)
	for _, record := range records {
		fields := make([]string, len(record))
		for i, field := range record {
			fields[i] = field
			if _, err := strconv.ParseFloat(field, 64); err != nil { // a number stays one
				fields[i] = asText(field)
			}
		}
		if err := w.Write(fields); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// control tells of characters that are not seen but change what is: control characters and those that turn the direction
// of writing.
func control(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }

// hidden says which character of a name is not seen, or "".
func hidden(name string) string {
	if at := strings.IndexFunc(name, control); at >= 0 {
		return fmt.Sprintf("the character %U, which is not seen; write it anew", []rune(name[at:])[0])
	}
	return ""
}

// shown is a free text as papers can show it: what is not seen but line breaks and tabs is replaced by a question mark.
func shown(text string) string {
	return strings.Map(func(r rune) rune {
		if control(r) && r != '\n' && r != '\r' && r != '\t' {
			return '?'
		}
		return r
	}, text)
}

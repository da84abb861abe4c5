package dxf

import (
	"bytes"
	"fmt"
	"io"
)

// maxFaults is how many faults of one drawing are kept; one more says that there were others.
const maxFaults = 100

// maxMM is the largest coordinate that is accepted, in mm: a kilometre.
const maxMM = 1e6

// Decode reads a whole drawing; file is its name for messages. The error is a Faults with every
// fault of the format; the drawing then holds what could be read, and nil only when nothing could.
func Decode(r io.Reader, file string) (*Drawing, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return Parse(data, file)
}

// Parse is Decode of bytes in memory. Nothing of data is kept.
func Parse(data []byte, file string) (*Drawing, error) {
	d := &decoder{
		drawing: &Drawing{File: file},
		names:   map[string]string{},
		limit:   maxMM,
	}
	if f := d.open(data); f != nil {
		f.File = file
		return nil, Faults{f}
	}
	d.sections()
	for _, f := range d.faults {
		f.File = file
	}
	return d.drawing, d.faults.Err()
}

// decoder is the state of one Parse.
type decoder struct {
	scan     scanner
	drawing  *Drawing
	faults   Faults
	bom      bool
	geometry bool    // the section of entities was met
	limit    float64 // largest coordinate, drawing units

	names map[string]string // raw name to its text
	cur   Entity            // being read
	seen  uint64            // group codes below 64 that cur has had
	twice uint64            // those that it has had more than once

	held   int // entities, layers and blocks
	points int

	lines    []Line // slabs
	arcs     []Arc
	vertices []Vertex // scratch
}

// open tells DXF from what is not and readies the scanner.
func (d *decoder) open(data []byte) *Fault {
	d.scan.data = data
	if len(data) > MaxBytes {
		return &Fault{Class: TooLarge, What: fmt.Sprintf("has more than %d MB; leave out of the drawing what is not the knife", MaxBytes>>20)}
	}
	if f := foreign(data); f != nil {
		return f
	}
	switch {
	case bytes.HasPrefix(data, []byte(sentinel)):
		d.drawing.Binary = true
		d.scan.binary = true
		d.scan.pos = len(sentinel)
		rest := data[d.scan.pos:]
		d.scan.wide = len(rest) > 1 && rest[0] == 0 && rest[1] == 0
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		d.bom = true
		d.scan.pos = 3
	}
	d.skipBlankLines()
	if !d.scan.next() || d.scan.code != 0 || !d.is("SECTION") {
		what := "does not begin with a section"
		if d.scan.class == BadNumber {
			what = d.scan.what
		} else if d.scan.class == Truncated {
			return &Fault{Line: d.scan.lines, Class: Truncated, What: d.scan.what}
		}
		return &Fault{Line: max(1, d.scan.lines-1), Class: NotDXF, What: "not a DXF file: " + what}
	}
	return nil
}

// skipBlankLines passes blank lines before the first pair.
func (d *decoder) skipBlankLines() {
	s := &d.scan
	for !s.binary && s.pos < len(s.data) {
		pos, lines := s.pos, s.lines
		if raw, ok := s.readLine(); !ok || len(trim(raw)) > 0 {
			s.pos, s.lines = pos, lines
			return
		}
	}
}

// foreign names files that are plainly something else.
func foreign(data []byte) *Fault {
	if len(bytes.Trim(data, " \t\r\n\x00\x1a\xef\xbb\xbf")) == 0 {
		return &Fault{Class: Empty, What: "the file is empty"}
	}
	head := data[:min(len(data), 64)]
	switch {
	case len(head) > 6 && bytes.HasPrefix(head, []byte("AC10")) && !bytes.ContainsAny(head[:6], "\r\n"):
		return &Fault{Class: NotDXF, Line: 1, What: fmt.Sprintf("a DWG file (%s) named as DXF; save it as DXF from the CAD program", head[:6])}
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")), bytes.Count(head, []byte{0}) > len(head)/4 && !bytes.HasPrefix(head, []byte("AutoCAD")):
		return &Fault{Class: NotDXF, Line: 1, What: "UTF-16 or binary data; DXF text is ASCII, a code page or UTF-8; save it again as DXF"}
	case bytes.HasPrefix(head, []byte("AutoCAD Binary DXF")) && !bytes.HasPrefix(data, []byte(sentinel)):
		return &Fault{Class: Truncated, Line: 1, What: "the opening of a binary DXF file is damaged; was it sent as text?"}
	case bytes.HasPrefix(data, []byte(sentinel)) && len(data) == len(sentinel):
		return &Fault{Class: Truncated, Line: 1, What: "a binary DXF file without contents"}
	}
	return nil
}

// is reports whether the last pair's value is the word.
func (d *decoder) is(word string) bool { return bytes.EqualFold(d.scan.text, []byte(word)) }

// sections reads everything after the first SECTION pair.
func (d *decoder) sections() {
	s := &d.scan
	for {
		name := ""
		if s.next() && s.code == 2 {
			name = string(bytes.ToUpper(s.text))
			s.next()
		}
		closed := false
		switch {
		case s.end:
		case name == "HEADER":
			d.header()
		case name == "TABLES":
			d.tables()
		case name == "BLOCKS":
			d.blocks()
		case name == "ENTITIES":
			d.geometry = true
			d.drawing.Entities = d.entities(d.drawing.Entities)
		default:
			d.skipSection()
		}
		closed = !s.end && s.code == 0 && d.is("ENDSEC")
		if !d.between(closed, name) {
			return
		}
	}
}

// between goes from the end of a section to the beginning of the next; false when there is none.
func (d *decoder) between(closed bool, name string) bool {
	s := &d.scan
	if s.end {
		class, what := s.class, s.what
		if class == "" {
			class, what = Truncated, fmt.Sprintf("file ends within section %s, without its ENDSEC", name)
		}
		d.faultAt(s.lines, class, what)
		return false
	}
	d.cur = Entity{}
	if closed && !s.next() {
		switch {
		case s.class != "":
			d.add(&Fault{Line: s.lines, Class: s.class, What: s.what})
		case !d.geometry:
			d.add(&Fault{Line: s.lines, Class: Truncated, What: "file ends after section " + name + ", before its entities"})
		default:
			d.note("file ends without EOF")
		}
		return false
	}
	if !closed {
		d.note(fmt.Sprintf("section %s has no ENDSEC", name))
	}
	for s.code != 0 || !d.is("SECTION") {
		if s.code == 0 && d.is("EOF") {
			return false
		}
		if !s.next() {
			d.add(&Fault{Line: s.lines, Class: Truncated, What: "file ends between sections, in the middle of something"})
			return false
		}
	}
	return true
}

// skipSection passes a section that holds no geometry.
func (d *decoder) skipSection() {
	for d.scan.code != 0 || !d.bracket() {
		if !d.scan.next() {
			return
		}
	}
}

// bracket reports whether the last value ends a section.
func (d *decoder) bracket() bool { return d.is("ENDSEC") || d.is("SECTION") || d.is("EOF") }

// add records a fault, up to maxFaults.
func (d *decoder) add(f *Fault) {
	switch {
	case len(d.faults) < maxFaults:
		d.faults = append(d.faults, f)
	case len(d.faults) == maxFaults:
		d.faults = append(d.faults, &Fault{Line: f.Line, Class: TooMany, What: "there are more faults than these"})
	}
}

// note records something harmless at the current line.
func (d *decoder) note(what string) {
	if len(d.drawing.Notes) < maxFaults {
		d.drawing.Notes = append(d.drawing.Notes, Note{Line: d.scan.lines, What: what})
	}
}

// name is the last pair's value as text, each distinct one made once.
func (d *decoder) name() string {
	raw := d.scan.text
	if s, ok := d.names[string(raw)]; ok {
		return s
	}
	s := decodeText(raw, d.drawing.Version, d.drawing.CodePage, d.bom)
	d.names[string(raw)] = s
	return s
}

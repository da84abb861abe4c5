package threemf

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/color"
	"io"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// The namespaces that are understood. Materials add colours to what the core says of the shape;
// production adds numbers, and places of objects in other parts, which are refused where they are used.
const (
	core       = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
	materials  = "http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
	production = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
)

// object is a resource that can be built.
type object struct {
	id         uint32
	name, kind string
	colour     color.NRGBA
	vertices   []r3.Vec // in the file's unit
	triangles  [][3]int32
	components []instance
	size       int64 // vertices and triangles, components included
	depth      int
	used       bool
}

// instance is an object in a place.
type instance struct {
	of   *object
	by   transform
	name string
}

// reader reads the model part.
type reader struct {
	x       *xml.Decoder
	part    string
	text    []byte
	unit    string
	scale   float64 // mm a unit
	meta    []Metadata
	objects map[uint32]*object
	order   []uint32
	colours map[uint32][]color.NRGBA
	items   []instance
	size    int64 // vertices and triangles of all items
	built   bool
	charset string // that the text states, where it is none that can be read
}

// readModel reads the model part.
func readModel(part string, text []byte) (*File, error) {
	r := &reader{
		x: xml.NewDecoder(bytes.NewReader(text)), part: part, text: text,
		objects: make(map[uint32]*object), colours: make(map[uint32][]color.NRGBA),
	}
	r.x.CharsetReader = func(charset string, _ io.Reader) (io.Reader, error) {
		r.charset = charset
		return nil, errors.ErrUnsupported
	}
	if err := r.document(); err != nil {
		return nil, err
	}
	return r.file()
}

// fault is an error at the place that was read last.
func (r *reader) fault(c Class, format string, args ...any) error {
	line, column := r.x.InputPos()
	return &Error{Class: c, Part: short(r.part), Line: line, Column: column, Found: fmt.Sprintf(format, args...)}
}

// token is the next token.
func (r *reader) token() (xml.Token, error) {
	t, err := r.x.Token()
	if err == nil {
		if d, ok := t.(xml.Directive); ok && bytes.HasPrefix(bytes.TrimSpace(d), []byte("DOCTYPE")) {
			return nil, r.fault(Unsupported, "a document type declaration, which the format forbids")
		}
		if s, ok := t.(xml.StartElement); ok {
			if len(s.Attr) > maxAttributes {
				return nil, r.fault(TooLarge, "%d attributes of <%s>", len(s.Attr), short(s.Name.Local))
			}
			if name, twice := repeated(s.Attr); twice {
				return nil, r.fault(Twice, "the attribute %s of <%s>", short(name), short(s.Name.Local))
			}
		}
		return t, nil
	}
	var s *xml.SyntaxError
	switch {
	case errors.As(err, &s):
		return nil, r.fault(Syntax, "%s", short(s.Msg))
	case errors.Is(err, io.EOF):
		return nil, err
	case r.charset != "":
		return nil, r.fault(Unsupported, "the encoding %q, expected UTF-8", short(r.charset))
	default:
		return nil, r.fault(Syntax, "%s", oneLine(err))
	}
}

// maxAttributes is the most attributes that an element may have; the formats know fewer than twenty.
const maxAttributes = 64

// repeated returns an attribute that stands in an element twice, which XML forbids and its decoder
// lets pass.
func repeated(all []xml.Attr) (name string, twice bool) {
	for i, a := range all {
		for _, b := range all[:i] {
			if a.Name == b.Name {
				return a.Name.Local, true
			}
		}
	}
	return "", false
}

// document reads up to the end of the text, and the one model in it.
func (r *reader) document() error {
	found := false
	for {
		t, err := r.token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		start, ok := t.(xml.StartElement)
		switch {
		case !ok:
			continue
		case found:
			return r.fault(Twice, "<%s> after the model", short(start.Name.Local))
		case start.Name != xml.Name{Space: core, Local: "model"}:
			return r.fault(Missing, "<%s>, expected <model> of %s", short(start.Name.Local), core)
		}
		found = true
		if err := r.model(start); err != nil {
			return err
		}
	}
	if !found {
		return r.fault(Missing, "no <model>")
	}
	return nil
}

// each reads the children of the element that was opened last, up to its end. The core's elements go
// to visit, which reads one to its end or leaves that to each by returning false; others are passed over.
func (r *reader) each(visit func(start xml.StartElement) (bool, error)) error {
	for {
		t, err := r.token()
		if err != nil {
			return err
		}
		switch t := t.(type) {
		case xml.EndElement:
			return nil
		case xml.StartElement:
			done := false
			if t.Name.Space == core {
				if done, err = visit(t); err != nil {
					return err
				}
			}
			if done {
				continue
			}
			if err := r.x.Skip(); err != nil {
				return r.fault(Syntax, "%s", oneLine(err))
			}
		}
	}
}

// model reads the root element.
func (r *reader) model(start xml.StartElement) error {
	if err := r.header(start); err != nil {
		return err
	}
	resources := false
	return r.each(func(start xml.StartElement) (bool, error) {
		switch start.Name.Local {
		case "metadata":
			value, err := r.chars()
			name, _ := attribute(start, "name")
			r.meta = append(r.meta, Metadata{Name: name, Value: value})
			return true, err
		case "resources":
			if resources {
				return false, r.fault(Twice, "a second <resources>")
			}
			resources = true
			return true, r.each(r.resource)
		case "build":
			if r.built {
				return false, r.fault(Twice, "a second <build>")
			}
			r.built = true
			return true, r.each(r.item)
		}
		return false, nil
	})
}

// header reads the attributes of the root element.
func (r *reader) header(start xml.StartElement) error {
	prefixes := make(map[string]string)
	r.unit = "millimeter"
	required := ""
	for _, a := range start.Attr {
		switch {
		case a.Name.Space == "xmlns":
			prefixes[a.Name.Local] = a.Value
		case a.Name == xml.Name{Local: "unit"}:
			r.unit = a.Value
		case a.Name == xml.Name{Local: "requiredextensions"}:
			required = a.Value
		}
	}
	switch r.unit {
	case "micron":
		r.scale = 0.001
	case "millimeter":
		r.scale = 1
	case "centimeter":
		r.scale = 10
	case "inch":
		r.scale = 25.4
	case "foot":
		r.scale = 304.8
	case "meter":
		r.scale = 1000
	default:
		return r.fault(Value, "unit %q, expected micron, millimeter, centimeter, inch, foot or meter", short(r.unit))
	}
	for _, prefix := range strings.Fields(required) {
		switch prefixes[prefix] {
		case core, materials, production:
		case "":
			return r.fault(Value, "requires the extension %q, which it does not declare", short(prefix))
		default:
			return r.fault(Unsupported, "requires the extension %s", short(prefixes[prefix]))
		}
	}
	return nil
}

// chars reads the text of the element that was opened last, up to its end.
func (r *reader) chars() (string, error) {
	var b strings.Builder
	for {
		t, err := r.token()
		if err != nil {
			return "", err
		}
		switch t := t.(type) {
		case xml.CharData:
			b.Write(t)
		case xml.EndElement:
			return b.String(), nil
		case xml.StartElement:
			if err := r.x.Skip(); err != nil {
				return "", r.fault(Syntax, "%s", oneLine(err))
			}
		}
	}
}

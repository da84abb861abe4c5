package threemf

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"path"
	"strings"
	"unicode"
)

// What is read of one file at most. A model of maxModel bytes has about 20 million triangles; text of
// a mesh was seen to shrink to between a fourth and a thirtieth, so that a part which shrank to a
// two-hundredth is none. maxTriangles holds for what the build items come to, since a few components
// can stand for any number of triangles.
const (
	maxSmallPart = 1 << 20
	maxModel     = 1 << 30
	maxRatio     = 200
	plainSize    = 16 << 20 // up to this many bytes the ratio does not matter
	maxSize      = 1 << 25
	maxDepth     = 32   // of components
	maxItems     = 1000 // no bed holds more; each is measured for itself
)

// Signature begins every 3MF file, since it begins every ZIP file that holds something.
const Signature = "PK\x03\x04"

// EmptySignature begins a ZIP file that holds nothing.
const EmptySignature = "PK\x05\x06"

// Decode reads a whole file. Every fault of the file is an *Error; an error of the reader is passed on.
// Extensions that only add colours, or that the file does not require, are passed over.
func Decode(r io.Reader) (*File, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	switch {
	case len(data) == 0:
		return nil, &Error{Class: Empty, Found: "the file has no bytes"}
	case err != nil && bytes.HasPrefix(data, []byte(Signature)):
		return nil, &Error{Class: Cut, Found: "the directory at the end is missing or damaged"}
	case err != nil:
		return nil, &Error{Class: NotPackage, Found: "no ZIP package"}
	}
	p := &pack{parts: make(map[string]*zip.File)}
	for _, f := range z.File {
		name := strings.ToLower(f.Name) // names of parts are equal whatever the case
		if p.parts[name] != nil {
			return nil, &Error{Class: Twice, Part: short(f.Name), Found: "two parts of one name"}
		}
		p.parts[name] = f
	}
	name, err := p.modelName()
	if err != nil {
		return nil, err
	}
	text, err := p.read(name, maxModel)
	if err != nil {
		return nil, err
	}
	return readModel(name, text)
}

// pack is a ZIP package that is being read.
type pack struct{ parts map[string]*zip.File }

// read unpacks one part. The ZIP reader holds a part to the size that the directory states.
func (p *pack) read(name string, most uint64) ([]byte, error) {
	f := p.parts[strings.ToLower(name)]
	fault := func(c Class, format string, args ...any) error {
		return &Error{Class: c, Part: short(name), Found: fmt.Sprintf(format, args...)}
	}
	switch {
	case f == nil:
		return nil, fault(Missing, "no such part in the package")
	case f.Flags&1 != 0:
		return nil, fault(Unsupported, "the part is encrypted")
	case f.Method != zip.Store && f.Method != zip.Deflate:
		return nil, fault(Unsupported, "packed by method %d, expected stored (0) or deflated (8)", f.Method)
	case f.UncompressedSize64 > most:
		return nil, fault(TooLarge, "unpacks to %d bytes; at most %d are read", f.UncompressedSize64, most)
	case f.UncompressedSize64 > plainSize && f.UncompressedSize64/maxRatio > f.CompressedSize64:
		return nil, fault(TooLarge, "%d bytes unpack to %d, more than %d times as many", f.CompressedSize64, f.UncompressedSize64, maxRatio)
	}
	r, err := f.Open()
	if err != nil {
		return nil, fault(Damaged, "%v", err)
	}
	var text bytes.Buffer
	_, err = text.ReadFrom(io.LimitReader(r, int64(most)+1))
	if closing := r.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return nil, fault(Damaged, "%s", oneLine(err))
	}
	return text.Bytes(), nil
}

// modelName finds the model among the parts, by the relationships of the package.
func (p *pack) modelName() (string, error) {
	if p.parts[strings.ToLower(typesPart)] == nil {
		return "", &Error{Class: Missing, Part: typesPart, Found: "no such part in the package"}
	}
	text, err := p.read(relsPart, maxSmallPart)
	if err != nil {
		return "", err
	}
	var list struct {
		Relationship []struct {
			Target string `xml:",attr"`
			Type   string `xml:",attr"`
		}
	}
	if err := xml.Unmarshal(text, &list); err != nil {
		return "", &Error{Class: Syntax, Part: relsPart, Found: oneLine(err)}
	}
	for _, r := range list.Relationship {
		if r.Type != relationship {
			continue
		}
		name := strings.TrimPrefix(path.Clean("/"+r.Target), "/")
		if p.parts[strings.ToLower(name)] == nil {
			return "", &Error{Class: Missing, Part: short(name), Found: "the relationships name a model that is not in the package"}
		}
		return name, nil
	}
	return "", &Error{Class: Missing, Part: relsPart, Found: "no relationship to a model"}
}

// short is text of a file as a message shows it: not too long, nothing unprintable.
func short(s string) string {
	const most = 60
	s = clean(s)
	if runes := []rune(s); len(runes) > most {
		return string(runes[:most]) + "..."
	}
	return s
}

// clean is text of a file in one line, without what a terminal might obey.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// oneLine is an error in one line.
func oneLine(err error) string { return short(strings.ReplaceAll(err.Error(), "\n", "; ")) }

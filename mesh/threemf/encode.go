package threemf

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"
	"time"

	"github.com/hpinc/go3mf"
	"github.com/hpinc/go3mf/spec"
	"gonum.org/v1/gonum/spatial/r3"
)

// The parts of a package. The two small ones are the same in every file.
const (
	modelPart    = "3D/3dmodel.model"
	relsPart     = "_rels/.rels"
	typesPart    = "[Content_Types].xml"
	relationship = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"

	contentTypes = xml.Header +
		`<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>` +
		"</Types>\n"
	relationships = xml.Header +
		`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Target="/` + modelPart + `" Id="model" Type="` + relationship + `"/>` +
		"</Relationships>\n"
)

// coloursID is the number of the list of colours; objects are numbered from the one after it.
const coloursID = 1

// Encode writes the package, deflated. Coordinates are rounded to float32, as STL has them; for a mesh
// from mesh.Gate that changes nothing. Same package, same bytes. A package that cannot be written is
// an *Error, before anything is written; an error of the writer is passed on.
func Encode(w io.Writer, p *Package) error {
	model, err := p.model()
	if err != nil {
		return err
	}
	text, err := modelText(model)
	if err != nil {
		return err
	}
	// The time is the earliest that ZIP can state: no clock gets into a file.
	earliest := time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)
	z := zip.NewWriter(w)
	for _, part := range []struct{ name, data string }{{typesPart, contentTypes}, {relsPart, relationships}} {
		to, err := z.CreateHeader(&zip.FileHeader{Name: part.name, Method: zip.Deflate, Modified: earliest})
		if err != nil {
			return err
		}
		if _, err := io.WriteString(to, part.data); err != nil {
			return err
		}
	}
	raw, err := text.OpenRaw()
	if err != nil {
		return err
	}
	to, err := z.CreateRaw(&zip.FileHeader{
		Name: modelPart, Method: text.Method, ReaderVersion: 20, CRC32: text.CRC32,
		ModifiedDate:     1<<5 | 1, //nolint:staticcheck // SA1019: what is copied raw takes the earliest date in no other form
		CompressedSize64: text.CompressedSize64, UncompressedSize64: text.UncompressedSize64,
	})
	if err != nil {
		return err
	}
	if _, err := io.Copy(to, raw); err != nil {
		return err
	}
	return z.Close()
}

// modelText is the model as XML, deflated. The library's own package carries the time of day and lists the kinds
// of parts in the order of a map, so only the model part is taken from it.
func modelText(m *go3mf.Model) (*zip.File, error) {
	var packed bytes.Buffer
	e := go3mf.NewEncoder(&packed)
	e.FloatPrecision = -1 // as few digits as give the same float32
	if err := e.Encode(m); err != nil {
		return nil, err
	}
	z, err := zip.NewReader(bytes.NewReader(packed.Bytes()), int64(packed.Len()))
	if err != nil {
		return nil, err
	}
	for _, f := range z.File {
		if f.Name == modelPart {
			return f, nil
		}
	}
	return nil, errors.New("the library wrote no model")
}

// model is the package as the library takes it.
func (p *Package) model() (*go3mf.Model, error) {
	if len(p.Objects) == 0 {
		return nil, &Error{Class: Empty, Found: "no object to write"}
	}
	m := &go3mf.Model{Language: "en-US"}
	for _, d := range []Metadata{{"Title", p.Title}, {"Description", p.Description}, {"Application", p.Application}} {
		if d.Value != "" {
			m.Metadata = append(m.Metadata, go3mf.Metadata{Name: xml.Name{Local: d.Name}, Value: d.Value})
		}
	}
	meshes := make([]*go3mf.Mesh, len(p.Objects))
	for i, o := range p.Objects {
		var err error
		if meshes[i], err = o.mesh(); err != nil {
			return nil, err
		}
	}
	colours := &go3mf.BaseMaterials{ID: coloursID}
	shifts := p.layout()
	for i, o := range p.Objects {
		object := &go3mf.Object{ID: uint32(coloursID + 1 + i), Name: o.Name, Mesh: meshes[i]}
		if o.Colour != (color.NRGBA{}) {
			object.PID, object.PIndex = coloursID, uint32(len(colours.Materials))
			if object.PIndex == 0 {
				object.AnyAttr = spec.AnyAttr{firstColour{}}
			}
			c := color.RGBA(o.Colour) // the library takes the four numbers as they are
			colours.Materials = append(colours.Materials, go3mf.Base{Name: o.Name, Color: c})
		}
		m.Resources.Objects = append(m.Resources.Objects, object)
		m.Build.Items = append(m.Build.Items, &go3mf.Item{ObjectID: object.ID, Transform: shift(shifts[i])})
	}
	if len(colours.Materials) > 0 {
		m.Resources.Assets = append(m.Resources.Assets, colours)
	}
	return m, nil
}

// shift is a transform that only moves.
func shift(d r3.Vec) go3mf.Matrix {
	return go3mf.Identity().Translate(float32(d.X), float32(d.Y), float32(d.Z))
}

// firstColour is the attribute pindex="0", which the library leaves out, though readers need it.
type firstColour struct{}

// Namespace is that of the core specification's attributes.
func (firstColour) Namespace() string { return "" }

// Unmarshal3MFAttr is not used: it is for reading.
func (firstColour) Unmarshal3MFAttr(spec.XMLAttr) error { return nil }

// Marshal3MF adds the attribute to an element.
func (firstColour) Marshal3MF(_ spec.Encoder, start *xml.StartElement) error {
	start.Attr = append(start.Attr, xml.Attr{Name: xml.Name{Local: "pindex"}, Value: strconv.Itoa(0)})
	return nil
}

// mesh is the object's mesh as the library takes it.
func (o *Object) mesh() (*go3mf.Mesh, error) {
	fault := func(c Class, format string, args ...any) error {
		return &Error{Class: c, Object: o.Name, Found: fmt.Sprintf(format, args...)}
	}
	if o.Mesh == nil || len(o.Mesh.Triangles) == 0 {
		return nil, fault(Empty, "no triangle to write")
	}
	m := &go3mf.Mesh{}
	for i, v := range o.Mesh.Vertices {
		p := go3mf.Point3D{float32(v.X) + 0, float32(v.Y) + 0, float32(v.Z) + 0} // + 0 turns -0 into 0
		for k, x := range [3]float64{v.X, v.Y, v.Z} {
			switch {
			case math.IsNaN(x) || math.IsInf(x, 0):
				return nil, fault(NonFinite, "vertex %d at (%v, %v, %v)", i, v.X, v.Y, v.Z)
			case math.IsInf(float64(p[k]), 0):
				return nil, fault(Overflow, "vertex %d at (%v, %v, %v)", i, v.X, v.Y, v.Z)
			}
		}
		m.Vertices.Vertex = append(m.Vertices.Vertex, p)
	}
	for i, t := range o.Mesh.Triangles {
		for _, v := range t {
			if v < 0 || int(v) >= len(o.Mesh.Vertices) {
				return nil, fault(Index, "triangle %d names vertex %d of %d", i, v, len(o.Mesh.Vertices))
			}
		}
		m.Triangles.Triangle = append(m.Triangles.Triangle, go3mf.Triangle{V1: uint32(t[0]), V2: uint32(t[1]), V3: uint32(t[2])})
	}
	return m, nil
}

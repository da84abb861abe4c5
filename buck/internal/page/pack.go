package page

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"math"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/mesh"
	"formbuck/profile"
	"formbuck/profile/plain"
)

const (
	step = 0.005 // of coordinates, mm
	high = 0.002 // of heights of the map, mm
	// mostCells is how many cells the page's map has at the most: the study's are taken every second, third and so on.
	mostCells = 70000
	flat      = 0.05 // how far a line's chords may lie off it, mm
)

// told is what goes into the page in plain figures.
type told struct {
	Step     float64       `json:"step"`
	Hands    []toldHand    `json:"hands"`
	Start    measures.Hand `json:"start"`
	Sides    [2]string     `json:"sides"` // of the blade: edge and spine, or what they are of one with two edges
	Parts    []toldPart    `json:"parts"`
	Outline  int           `json:"outline"`
	Handle   int           `json:"handle"`
	Guard    int           `json:"guard"`
	Trim     int           `json:"trim"`
	Map      toldMap       `json:"map"`
	Cavities []string      `json:"cavities"`
	Sheet    float64       `json:"sheet"`
	Eyelets  [][2]float64  `json:"eyelets"`
	Hole     float64       `json:"hole"`
	Flange   float64       `json:"flange"`
	Posts    []toldPost    `json:"posts"`
	Felt     float64       `json:"felt"`
	Lock     *toldLock     `json:"lock"`
	Tip      float64       `json:"tip"` // along the draw
}

type toldHand struct {
	Name  measures.Hand   `json:"name"`
	Faces []measures.Face `json:"faces"`
}

type toldPart struct {
	Name      string          `json:"name"`
	Label     string          `json:"label"`
	Hands     []measures.Hand `json:"hands"`
	Colour    [3]float64      `json:"colour"`
	On        bool            `json:"on"`
	Draws     bool            `json:"draws"`
	Vertices  int             `json:"vertices"`
	Triangles int             `json:"triangles"`
}

type toldMap struct {
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Step float64 `json:"step"`
	NX   int     `json:"nx"`
	NY   int     `json:"ny"`
	Turn float64 `json:"turn"`
	High float64 `json:"high"`
}

type toldPost struct {
	X    float64       `json:"x"`
	Y    float64       `json:"y"`
	Z    float64       `json:"z"`
	D    float64       `json:"d"`
	Face measures.Face `json:"face"`
}

type toldLock struct {
	Box  [4]float64 `json:"box"`
	Half float64    `json:"half"`
}

// packer writes whole numbers in groups of seven bits, the low ones first; the sign is the lowest bit.
type packer struct{ bytes.Buffer }

func (p *packer) number(v int64) {
	u := uint64(v) << 1
	if v < 0 {
		u = ^u
	}
	for ; u > 127; u >>= 7 {
		p.WriteByte(byte(u) | 128)
	}
	p.WriteByte(byte(u))
}

// lengths writes lengths in steps.
func (p *packer) list(size int, values []int64) {
	for i, v := range values {
		if i >= size {
			v -= values[i-size]
		}
		p.number(v)
	}
}

func steps(mm, step float64) int64 { return int64(math.Round(mm / step)) }

// mesh writes vertices in the order in which the triangles first use them, and then the triangles.
func (p *packer) mesh(m *mesh.Mesh) (vertices, triangles int) {
	order := make([]int64, len(m.Vertices))
	var places, corners []int64
	for _, t := range m.Triangles {
		for _, v := range t {
			if order[v] == 0 {
				at := m.Vertices[v]
				places = append(places, steps(at.X, step), steps(at.Y, step), steps(at.Z, step))
				order[v] = int64(len(places) / 3)
			}
			corners = append(corners, order[v]-1)
		}
	}
	p.list(3, places)
	p.list(3, corners)
	return len(places) / 3, len(m.Triangles)
}

// line writes the points of a closed line.
func (p *packer) line(l profile.Loop) int {
	if len(l) == 0 {
		return 0
	}
	var places []int64
	points := l.Flatten(flat)
	for _, q := range points {
		places = append(places, steps(q.X, step), steps(q.Y, step))
	}
	p.list(2, places)
	return len(points)
}

// field writes every so many cells of a map, each told from the one before it in its row, the first from the first of the
// row before.
func (p *packer) field(m toldMap, every int, at func(i, j int) float64) {
	first := int64(0)
	for j := range m.NY {
		last := first
		for i := range m.NX {
			v := steps(at(i*every, j*every), high)
			p.number(v - last)
			last = v
			if i == 0 {
				first = v
			}
		}
	}
}

// pack is what a page is told in plain figures, and its shapes.
func pack(c Content) (*told, []byte, error) {
	t := &told{Step: step, Felt: path.Felt, Parts: []toldPart{}, Eyelets: [][2]float64{}, Posts: []toldPost{}}
	p := &packer{}
	spec := c.Draw.With.Buck.Knife.Spec
	blade := spec.Blade
	t.Sides = [2]string{blade.Told("edge"), blade.Told("spine")}
	for _, h := range c.Hands {
		t.Hands = append(t.Hands, toldHand{h, append([]measures.Face{}, spec.Faces(h)...)})
		if t.Start == "" && len(spec.Faces(h)) > 0 {
			t.Start = h
		}
	}
	for _, part := range c.Parts {
		k := part.Colour
		one := toldPart{
			Name: part.Name, Label: plain.Text(part.Label), Hands: part.Hands, On: !part.Hidden, Draws: part.Draws,
			Colour: [3]float64{share(k.R), share(k.G), share(k.B)},
		}
		one.Vertices, one.Triangles = p.mesh(part.Mesh)
		t.Parts = append(t.Parts, one)
	}
	s := c.Draw.With
	k := s.Buck.Knife
	t.Outline, t.Handle, t.Guard = p.line(k.Plan.Outline), p.line(k.Plan.Handle), p.line(k.Plan.Guard)
	t.Sheet, t.Tip = k.Spec.Sheet.Thickness, s.Knife.Draw(k.Plan.Tip).X
	if c.Sheath != nil {
		t.Trim = p.line(c.Sheath.Trim)
		t.layout(c.Sheath, s)
	}
	t.field(p, s)
	if l := c.Draw.Lock; l != nil {
		b := l.Box
		t.Lock = &toldLock{Box: [4]float64{b.Min.X - 1, b.Min.Y - 1, b.Max.X + 1, b.Max.Y + 1}, Half: l.Total / 2}
	}
	packed, err := deflated(p.Bytes())
	return t, packed, err
}

// layout tells the holes of the sheath.
func (t *told) layout(l *layout.Sheath, s *path.Study) {
	e := l.Knife.Spec.Eyelet
	t.Hole, t.Flange = e.Hole, e.Flange
	for _, one := range l.Eyelets {
		t.Eyelets = append(t.Eyelets, [2]float64{hundredth(one.At.X), hundredth(one.At.Y)})
	}
	for _, one := range l.Posts {
		top, nearest := 0.0, math.Inf(1)
		for _, b := range s.Buck.Bosses() {
			if d := b.Top.Distance(one.At); d < nearest {
				top, nearest = b.TopZ, d
			}
		}
		t.Posts = append(t.Posts, toldPost{
			X: hundredth(one.At.X), Y: hundredth(one.At.Y), Z: hundredth(top + t.Sheet), D: one.Diameter, Face: one.Face,
		})
	}
}

// field tells the map: the knife, and for a face without a boss and one with it the cavity and by how much more it lets the knife
// through without being felt. Of the study's cells every one, every second or so on is taken, so that nothing is seen in the map
// that is not in the study.
func (t *told) field(p *packer, s *path.Study) {
	g := s.Knife.Grid
	every := 1
	for (g.NX/every)*(g.NY/every) > mostCells {
		every++
	}
	first := g.Middle(0, 0)
	wide := g.Step * float64(every)
	t.Map = toldMap{
		X: first.X - wide/2, Y: first.Y - wide/2, Step: wide, NX: (g.NX-1)/every + 1, NY: (g.NY-1)/every + 1, Turn: g.TurnDeg, High: high,
	}
	p.field(t.Map, every, func(i, j int) float64 { return s.Knife.Row(j)[i] })
	for _, kind := range []struct {
		name string
		face *path.Face
	}{{"plain", s.Plain()}, {"boss", s.Bossed()}} {
		if kind.face == nil {
			continue
		}
		t.Cavities = append(t.Cavities, kind.name)
		free, lets := kind.face.Cavity, s.Lets(kind.face)
		p.field(t.Map, every, func(i, j int) float64 { return free.Row(j)[i] })
		p.field(t.Map, every, func(i, j int) float64 { return lets.Row(j)[i] - free.Row(j)[i] })
	}
}

func share(b uint8) float64 { return math.Round(float64(b)/255*1000) / 1000 }

func hundredth(v float64) float64 { return math.Round(v*100) / 100 }

func deflated(data []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := zlib.NewWriterLevel(&b, zlib.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, fmt.Errorf("pack: %w", err)
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("pack: %w", err)
	}
	return b.Bytes(), nil
}

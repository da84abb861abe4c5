package layout

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"

	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// The sheet of a layout, in mm.
const (
	sheetMargin = 10.0
	sheetBars   = 24.0 // room for the bars below and on the left
	sheetRow    = 5.0
	barLength   = 122.0 // of the bars and what is before and after them
)

// Colours of what is cut and drilled, and of areas.
var (
	inkHole   = color.NRGBA{R: 31, G: 78, B: 158, A: 255}
	inkPin    = color.NRGBA{R: 179, G: 38, B: 30, A: 255}
	inkRight  = color.NRGBA{R: 122, G: 63, B: 160, A: 255}
	inkLeft   = color.NRGBA{R: 46, G: 125, B: 50, A: 255}
	inkFold   = color.NRGBA{R: 190, G: 120, B: 20, A: 255}
	fillSheet = color.NRGBA{R: 243, G: 239, B: 230, A: 255}
	fillKnife = color.NRGBA{R: 223, G: 227, B: 232, A: 255}
)

// Sheet is the layout at its true size, seen on the right face, with bars to check a print by. It shows
// the knife as far as the blank goes.
func (s *Sheath) Sheet() *drawing.Drawing {
	box := s.Blank.Box
	lines := s.captions()
	size := box.Size()
	below := sheetBars + sheetRow*float64(len(lines)+1)
	d := drawing.New(s.Knife.Spec.Name+": sheath", r2.Vec{
		X: sheetBars + max(size.X, barLength, widest(lines)) + sheetMargin,
		Y: max(below+size.Y+sheetMargin, sheetBars+barLength),
	})
	by := r2.Sub(r2.Vec{X: sheetBars, Y: below}, box.Min)
	p := &plot{d: d, by: by, left: box.Min.X}
	p.path(drawing.Pen{Width: 0.18, Colour: drawing.Quiet, Dash: []float64{4, 2}}, profile.Rectangle(s.Blank.Box))
	s.areas(p)
	s.holes(p)
	s.labels(p)
	s.extrusion(p)
	d.Bars(r2.Vec{X: sheetMargin / 2, Y: sheetMargin / 2})
	for i, l := range lines {
		t := captionType(i)
		d.Text(r2.Vec{X: sheetBars, Y: below - sheetRow*float64(i+1)}, t, l)
	}
	return d
}

// captionType is how a line under the picture is set.
func captionType(line int) drawing.Type { return drawing.Type{Size: 3.5, Bold: line == 0} }

// widest is how much room the captions take, mm.
func widest(lines []string) float64 {
	most := 0.0
	for i, l := range lines {
		most = max(most, drawing.Width(captionType(i), l))
	}
	return most
}

// captions are the lines under the picture.
func (s *Sheath) captions() []string {
	size := s.Trim.Bounds().Size()
	lines := []string{
		s.Knife.Spec.Name + ": sheath, seen on the right face, 1:1",
		fmt.Sprintf("trimmed %.1f x %.1f mm, trim line %.0f mm; two blanks of %.0f x %.0f mm, extrusion %s the blade",
			size.X, size.Y, s.TrimLength(), math.Ceil(s.Blank.Length), math.Ceil(s.Blank.Width), s.Blank.Extrusion),
	}
	for _, r := range s.Runs {
		lines = append(lines, fmt.Sprintf("%s: %d eyelets, %.2f mm apart along their line, holes of %.4g mm through both halves",
			s.Knife.Spec.Blade.Told(r.Side), r.Count, r.Pitch, s.Knife.Spec.Eyelet.Hole))
	}
	var pins []string
	for _, p := range s.Pins {
		pins = append(pins, strconv.Itoa(p.Eyelet+1))
	}
	return append(lines, fmt.Sprintf("pins of %.4g mm in holes %s; the left half is trimmed turned over about the blade's axis",
		s.Pins[0].Diameter, strings.Join(pins, ", ")))
}

// plot is a drawing in the blade's frame.
type plot struct {
	d    *drawing.Drawing
	by   r2.Vec
	left float64 // x from which the knife is shown
}

func (p *plot) at(q r2.Vec) r2.Vec { return r2.Add(q, p.by) }

func (p *plot) path(pen drawing.Pen, path profile.Path) {
	if len(path) > 0 {
		p.d.Stroke(pen, drawing.Placed(path, 0, p.by))
	}
}

func (p *plot) text(at r2.Vec, ink color.NRGBA, words string) {
	p.set(at, drawing.Type{Size: 3.2, Colour: ink, Align: drawing.Centre}, words)
}

// clear sets a text beside the sheath, over whatever line is there.
func (p *plot) clear(at r2.Vec, ink color.NRGBA, words string) {
	p.set(at, drawing.Type{Size: 3.2, Colour: ink, Align: drawing.Centre, Clear: true}, words)
}

func (p *plot) set(at r2.Vec, t drawing.Type, words string) {
	p.d.Text(r2.Add(p.at(at), r2.Vec{Y: -t.Size / 3}), t, words)
}

// hole is a circle with its centre marked.
func (p *plot) hole(at r2.Vec, diameter float64, ink color.NRGBA) {
	pen := drawing.Pen{Width: 0.25, Colour: ink}
	p.d.Circle(pen, p.at(at), diameter/2)
	const arm = 1.5
	p.d.Line(pen, p.at(r2.Vec{X: at.X - arm, Y: at.Y}), p.at(r2.Vec{X: at.X + arm, Y: at.Y}))
	p.d.Line(pen, p.at(r2.Vec{X: at.X, Y: at.Y - arm}), p.at(r2.Vec{X: at.X, Y: at.Y + arm}))
}

// areas draws sheath, knife and the lines where the sheets come to lie flat.
func (s *Sheath) areas(p *plot) {
	faint := drawing.Pen{Width: 0.18, Colour: drawing.Quiet}
	p.d.Fill(fillSheet, drawing.Placed(s.Trim.Path(), 0, p.by))
	knife := rightOf(s.Knife.Plan.Outline.Path(), p.left)
	p.d.Fill(fillKnife, drawing.Placed(closed(knife), 0, p.by))
	for _, path := range slices.Concat(knife, rightOf(s.Knife.Plan.Handle.Path(), p.left), rightOf(s.Knife.Plan.Guard.Path(), p.left)) {
		p.path(faint, path)
	}
	fold := drawing.Pen{Width: 0.18, Colour: inkFold, Dash: []float64{1, 1}}
	for _, path := range s.Open() {
		p.path(fold, path)
	}
	p.path(drawing.Pen{Width: 0.35}, s.Trim.Path())
}

// closed is the parts of a path joined by straight lines to one area.
func closed(parts []profile.Path) profile.Path {
	var all profile.Path
	for _, part := range parts {
		if len(all) > 0 {
			all = append(all, profile.Segment{A: all.End(), B: part.Start()})
		}
		all = append(all, part...)
	}
	return append(all, profile.Segment{A: all.End(), B: all.Start()})
}

// rightOf are the parts of a closed path from x on.
func rightOf(p profile.Path, x float64) []profile.Path {
	var parts []profile.Path
	var now profile.Path
	first := 0 // a segment that begins on the left, if there is one
	for i, s := range p {
		if s.A.X < x {
			first = i
			break
		}
	}
	for i := range p {
		s := p[(first+i)%len(p)]
		in, out := s.A.X >= x, s.B.X >= x
		cut := 0.0
		if in != out {
			cut = crossing(s, x)
		}
		switch {
		case in && out:
			now = append(now, s)
		case in:
			parts = append(parts, append(now, s.Part(0, cut)))
			now = nil
		case out:
			now = append(now, s.Part(cut, 1))
		}
	}
	if len(now) > 0 {
		parts = append(parts, now)
	}
	return parts
}

// crossing is the share of a segment at which it crosses x, once.
func crossing(s profile.Segment, x float64) float64 {
	low, high := 0.0, 1.0
	for range 50 {
		if mid := (low + high) / 2; (s.At(mid).X >= x) == (s.A.X >= x) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

func (s *Sheath) holes(p *plot) {
	e := s.Knife.Spec.Eyelet
	for _, eyelet := range s.Eyelets {
		p.d.Fill(drawing.White, drawing.Round(p.at(eyelet.At), e.Hole/2))
		p.d.Circle(drawing.Pen{Width: 0.13, Colour: drawing.Quiet}, p.at(eyelet.At), e.Flange/2)
		p.hole(eyelet.At, e.Hole, inkHole)
	}
	for _, pin := range s.Pins {
		p.hole(pin.At, e.Hole, inkPin)
	}
	for _, h := range s.Holes {
		p.d.Fill(drawing.White, drawing.Round(p.at(h.At), h.Diameter/2))
		p.hole(h.At, h.Diameter, inkHole)
	}
	for _, post := range s.Posts {
		ink, wider := inkRight, 0.0
		if post.Hand == measures.Left {
			ink, wider = inkLeft, 0.8 // so that both show where a sheath has both
		}
		p.hole(post.At, post.Diameter+wider, ink)
	}
}

// labels numbers the eyelets and says what pins, posts and the mouth are.
func (s *Sheath) labels(p *plot) {
	middle := s.Trim.Centroid()
	var taken []r2.Box
	for i, e := range s.Eyelets {
		up := 1.0
		if e.At.Y < middle.Y {
			up = -1
		}
		words, ink := strconv.Itoa(i+1), inkHole
		for _, pin := range s.Pins {
			if pin.Eyelet != i {
				continue
			}
			words, ink = words+" pin", inkPin
			if pin.Check {
				words = strconv.Itoa(i+1) + " check pin"
			}
		}
		out := s.outward(e.At)
		if out.Y*up < 0.5 {
			out = r2.Vec{Y: up}
		}
		wide := drawing.Width(drawing.Type{Size: 3.2}, words)
		at := s.outside(e.At, out, 2.8+wide/2*math.Abs(out.X))
		box := func() r2.Box { return boxAbout(at, wide+1, labelTall) }
		for range len(taken) { // round the tip two may want one place
			i := slices.IndexFunc(taken, func(b r2.Box) bool { return overlap(b, box()) })
			if i < 0 {
				break
			}
			at = r2.Add(at, r2.Scale(labelTall, out))
		}
		taken = append(taken, box())
		p.clear(at, ink, words)
	}
	for _, h := range s.Holes {
		p.text(s.beside(h, middle), inkHole, h.Name)
	}
	for _, post := range s.Posts {
		ink, off := inkRight, 6.5
		if post.Hand == measures.Left {
			ink, off = inkLeft, -6.5
		}
		p.text(r2.Add(post.At, r2.Vec{Y: off}), ink, string(post.Hand))
	}
	top := s.Mouth[1]
	if s.Mouth[0].Y > top.Y {
		top = s.Mouth[0]
	}
	p.text(r2.Add(top, r2.Vec{X: -7, Y: -2}), drawing.Quiet, "mouth") // beside the rim, where neither knife nor fold is
}

// labelTall is how high the line of a label is, with what it keeps from the next, mm.
const labelTall = 4.2

// boxAbout is a box of a size about its middle.
func boxAbout(at r2.Vec, wide, tall float64) r2.Box {
	half := r2.Vec{X: wide / 2, Y: tall / 2}
	return r2.Box{Min: r2.Sub(at, half), Max: r2.Add(at, half)}
}

func overlap(a, b r2.Box) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// beside is where a hole's name stands: towards the middle of the sheath, away from it or at either side, where it covers no
// eyelet.
func (s *Sheath) beside(h Hole, middle r2.Vec) r2.Vec {
	wide := drawing.Width(drawing.Type{Size: 3.2}, h.Name) / 2
	in := math.Copysign(h.Diameter/2+3, middle.Y-h.At.Y)
	tries := []r2.Vec{{Y: in}, {X: h.Diameter/2 + 2 + wide}, {X: -h.Diameter/2 - 2 - wide}, {Y: 2 * in}, {Y: -in}}
	for _, by := range tries {
		at := r2.Add(h.At, by)
		covers := func(e Eyelet) bool {
			flange := s.Knife.Spec.Eyelet.Flange / 2
			return math.Abs(e.At.X-at.X) < wide+flange && math.Abs(e.At.Y-at.Y) < 1.6+flange
		}
		if !slices.ContainsFunc(s.Eyelets, covers) {
			return at
		}
	}
	return r2.Add(h.At, tries[0])
}

// extrusion is an arrow with two heads in the blank's lower corner towards the tip, the way that the sheet was extruded:
// both blanks are marked with it before they are cut.
func (s *Sheath) extrusion(p *plot) {
	const half, head, off = 9.0, 2.0, 5.0
	pen := drawing.Pen{Width: 0.25, Colour: drawing.Quiet}
	along, across := r2.Vec{X: 1}, r2.Vec{Y: 1}
	middle := r2.Vec{X: s.Blank.Box.Max.X - off - half, Y: s.Blank.Box.Min.Y + off}
	if s.Blank.Extrusion == measures.Across {
		along, across = across, along
		middle = r2.Vec{X: s.Blank.Box.Max.X - off, Y: s.Blank.Box.Min.Y + off + half}
	}
	a, b := r2.Sub(middle, r2.Scale(half, along)), r2.Add(middle, r2.Scale(half, along))
	p.d.Line(pen, p.at(a), p.at(b))
	for _, side := range [2]float64{-1, 1} {
		barb := r2.Scale(side*head/2, across)
		p.d.Line(pen, p.at(a), p.at(r2.Add(r2.Add(a, r2.Scale(head, along)), barb)))
		p.d.Line(pen, p.at(b), p.at(r2.Add(r2.Sub(b, r2.Scale(head, along)), barb)))
	}
	wide := drawing.Width(drawing.Type{Size: 3.2}, "extrusion")
	at := r2.Vec{X: middle.X, Y: middle.Y + 3}
	if s.Blank.Extrusion == measures.Across {
		at = r2.Vec{X: middle.X - 3 - wide/2, Y: middle.Y}
	}
	p.text(at, drawing.Quiet, "extrusion")
}

// outside is the place beyond the trim line, by some room, that one comes to from p on the way.
func (s *Sheath) outside(p, way r2.Vec, room float64) r2.Vec {
	far := 0.0
	for far < 200 && s.Trim.Contains(r2.Add(p, r2.Scale(far, way))) {
		far += 0.25
	}
	return r2.Add(p, r2.Scale(far+room, way))
}

// outward is the way from p straight to the trim line.
func (s *Sheath) outward(p r2.Vec) r2.Vec {
	best, to := math.Inf(1), r2.Vec{Y: 1}
	for _, seg := range s.Trim {
		q := seg.Nearest(p)
		if d := r2.Norm(r2.Sub(q, p)); d < best && d > 0 {
			best, to = d, r2.Scale(1/d, r2.Sub(q, p))
		}
	}
	return to
}

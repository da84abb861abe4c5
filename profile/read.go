package profile

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// Read joins the drawing's entities into loops and gives each a role.
//
// The outline is the largest closed loop of its layer, other loops within it are holes. Ends are
// joined up to o.Gap apart; what is drawn twice is taken once. The error is a dxf.Faults with
// everything that is wrong with the geometry; the profile beside it holds what was understood, for a
// picture, and is nil only when units or everything else are missing.
func Read(d *dxf.Drawing, o Options) (*Profile, error) {
	if d == nil {
		return nil, dxf.Faults{{Class: dxf.Empty, What: "there is no drawing"}}
	}
	if o.Gap <= 0 {
		o.Gap = JoinGap
	}
	unit, by, err := statedUnits(d, o.Units)
	if err != nil {
		return nil, err
	}
	if unit == dxf.Unitless {
		if unit, by, err = guessUnits(d, rawLong(d, o)); err != nil {
			return nil, err
		}
	}
	r := newReader(d, o, unit, by)
	if r.spent {
		return r.profile, r.faults.Err()
	}
	r.read()
	r.profile.Skipped = r.skipped
	return r.profile, r.faults.Err()
}

// rawLong is how long what could be the knife is, in the drawing's units, which are not known: they are taken for those
// that are not far off a knife's, as ends are joined and frames told by distances in mm.
func rawLong(d *dxf.Drawing, o Options) (long float64) {
	for _, u := range []dxf.Units{dxf.Millimetres, dxf.Inches, dxf.Metres} {
		r := newReader(d, o, u, "")
		if r.spent {
			return shortKnife // which is told when it is read
		}
		long = r.long() / u.MM()
		if long*u.MM() >= shortKnife {
			break
		}
	}
	return long
}

// newReader collects what a drawing holds.
func newReader(d *dxf.Drawing, o Options, unit dxf.Units, by string) *reader {
	scale := unit.MM()
	r := &reader{
		options: o,
		profile: &Profile{File: d.File, Units: unit.String(), UnitsBy: by, Scale: scale},
		collector: collector{
			scale: scale, byName: map[string]*bucket{}, file: d.File, at: map[Skipped]int{},
			fit: fitter{tol: CurveTolerance, budget: maxHalvings},
		},
		joined: map[*bucket]*joined{},
	}
	for _, n := range d.Notes {
		r.warn(n.Line, "%s", n.What)
	}
	_ = errors.As(d.Walk(&r.collector), &r.faults) // Walk returns nothing but Faults
	r.faults = append(r.faults, r.collector.faults...)
	return r
}

// long is how long what could be the knife is, in the drawing's units as far as they are known: the outline,
// or, where there is none, all that is on the layer that it would be on; 0 where there is nothing.
func (r *reader) long() float64 {
	shape, _, _ := r.roles()
	used := r.outlineBucket(shape)
	if used == nil {
		return 0
	}
	if l := r.join(used).largest(); l != nil {
		long, _ := counterClockwise(l.path).size()
		return long
	}
	return used.extent()
}

// reader is the state of one Read.
type reader struct {
	collector
	options Options
	profile *Profile
	joined  map[*bucket]*joined
	faults  dxf.Faults

	looked   int      // loops of layers that are not used, whether they lie in the outline
	branches []r2.Vec // where more than two ends meet
	sheets   []sheet  // whose frames and tables were left out
}

// warn warns, up to maxFaults times.
func (r *reader) warn(line int, format string, args ...any) {
	if len(r.profile.Warnings) >= maxFaults {
		return
	}
	r.profile.Warnings = append(r.profile.Warnings, Warning{Line: line, What: fmt.Sprintf(format, args...)})
}

// read gives every layer its role.
func (r *reader) read() {
	shape, holes, marks := r.roles()
	used := r.outlineBucket(shape)
	if used != nil {
		r.profile.Layer = used.name
		r.loops(used, holes)
		if len(r.profile.Outline) == 0 {
			r.leave(used)
		}
	}
	r.sizeFault(used)
	for _, b := range r.buckets {
		kind, isMark := marks[b]
		if n := len(b.points); n > 0 && kind != Tip {
			r.skip(Skipped{Kind: "POINT", Layer: b.name, Why: "point", Count: n})
		}
		switch {
		case isMark:
			r.marks(b, kind)
			r.total(b)
			r.unread(b, len(b.strands)+len(b.points) > 0)
		case b == used:
			r.total(b)
			r.unread(b, len(r.profile.Outline) > 0)
		case slices.Contains(holes, b):
			r.total(b)
			r.unread(b, false)
		default:
			if used == nil {
				r.unread(b, false)
			}
			r.unused(b)
			continue
		}
		r.faults = append(r.faults, b.far...)
	}
	r.remarks()
}

// roles parts the layers into those that the outline may be on, without the sheet's frame, those of holes,
// and those of marks.
func (r *reader) roles() (shape, holes []*bucket, marks map[*bucket]MarkKind) {
	marks = map[*bucket]MarkKind{}
	for _, b := range r.buckets {
		if kind, ok := r.markKind(b.name); ok {
			marks[b] = kind
		} else if low := strings.ToLower(b.name); low == "holes" || low == "hole" {
			holes = append(holes, b)
		} else if len(b.strands) > 0 {
			shape = append(shape, b)
		}
	}
	if named := r.namedBucket(shape); named != nil {
		r.furniture([]*bucket{named})
	} else {
		r.furniture(shape)
	}
	shape = slices.DeleteFunc(shape, func(b *bucket) bool { return len(b.strands) == 0 })
	return shape, holes, marks
}

// total adds what joining a layer did to the profile's figures.
func (r *reader) total(b *bucket) {
	j := r.join(b)
	r.profile.Duplicates += j.duplicates
	r.profile.WidestGap = max(r.profile.WidestGap, j.widest)
}

// markKind is the kind of mark that a layer holds.
func (r *reader) markKind(layer string) (MarkKind, bool) {
	for _, k := range MarkKinds() {
		name := r.options.Layers[k]
		if name == "" {
			name = string(k)
		}
		if strings.EqualFold(name, layer) {
			return k, true
		}
	}
	return "", false
}

// MarkKinds is the closed list of the kinds of reference line.
func MarkKinds() []MarkKind { return []MarkKind{Handle, Grind, Throat, Edge, Tip, Guard, Swedge} }

// outlineLayer is the layer that the outline is looked for on, where it is there.
const outlineLayer = "OUTLINE"

// namedBucket is the layer that is named for the outline, or that was named as the outline's; nil where
// there is none.
func (r *reader) namedBucket(shape []*bucket) *bucket {
	want := r.options.Layer
	for _, b := range shape {
		if strings.EqualFold(b.name, want) || want == "" && strings.EqualFold(b.name, outlineLayer) {
			return b
		}
	}
	return nil
}

// outlineBucket chooses the layer that the outline is on; nil, with a fault, where there is none.
func (r *reader) outlineBucket(shape []*bucket) *bucket {
	if b := r.namedBucket(shape); b != nil {
		return b
	}
	if want := r.options.Layer; want != "" {
		r.fault(dxf.UnknownLayer, nil, nil, fmt.Sprintf("the drawing has no lines on layer %q", want))
		return nil
	}
	var best, second *bucket
	var bestLoop, secondLoop *chain
	for _, b := range shape {
		switch l := r.join(b).largest(); {
		case l == nil:
		case bestLoop == nil || math.Abs(Loop(l.path).Area()) > math.Abs(Loop(bestLoop.path).Area())*(1+1e-9):
			best, second, bestLoop, secondLoop = b, best, l, bestLoop
		case secondLoop == nil || math.Abs(Loop(l.path).Area()) > math.Abs(Loop(secondLoop.path).Area()):
			second, secondLoop = b, l
		}
	}
	if best == nil {
		return r.longest(shape)
	}
	if second != nil && rival(bestLoop, secondLoop) {
		e := r.join(second).strands[secondLoop.strandAt(0)].from
		r.fault(dxf.TwoOutlines, e, nil, fmt.Sprintf("a loop of %.4g mm2 beside one of %.4g mm2 on layer %s: either could be the outline; name its layer",
			math.Abs(Loop(secondLoop.path).Area()), math.Abs(Loop(bestLoop.path).Area()), best.name))
	}
	return best
}

// rival reports whether the second largest loop could be the outline as well as the largest: it lies
// beside it and is not much smaller, or it lies within a plain rectangle, as a drawing's border is, and
// is not much shorter.
func rival(a, b *chain) bool {
	const (
		areaShare   = 0.25
		lengthShare = 0.4
	)
	at := b.path[0].At(0.5)
	if a.path.Distance(at) <= sameWithin {
		return false // the same loop on another layer
	}
	if Loop(a.path).Contains(at) {
		return rectangle(a.path) && diagonal(b.path) > lengthShare*diagonal(a.path)
	}
	return math.Abs(Loop(b.path).Area()) > areaShare*math.Abs(Loop(a.path).Area())
}

// rectangle reports whether a loop is four straight lines with square corners.
func rectangle(p Path) bool {
	if len(p) != 4 {
		return false
	}
	for i, s := range p {
		square := math.Abs(angle(s.Tangent(1), p[(i+1)%4].Tangent(0)))
		if !s.Straight() || math.Abs(square-math.Pi/2) > blunt {
			return false
		}
	}
	return true
}

// diagonal is that of the path's box.
func diagonal(p Path) float64 {
	b := p.Bounds()
	return r2.Norm(r2.Sub(b.Max, b.Min))
}

// longest is the layer with the most geometry, where no layer has a closed loop: its faults say why.
func (r *reader) longest(shape []*bucket) *bucket {
	var best *bucket
	most := 0.0
	for _, b := range shape {
		sum := 0.0
		for _, s := range b.strands {
			sum += s.path.Length()
		}
		if sum > most {
			best, most = b, sum
		}
	}
	if best == nil && len(r.faults) == 0 {
		r.fault(dxf.NoOutline, nil, nil, "the drawing has no lines or arcs that could be an outline")
	}
	return best
}

// join joins a layer's strands, once.
func (r *reader) join(b *bucket) *joined {
	j := r.joined[b]
	if j == nil {
		j = join(b.strands, r.options.Gap)
		r.joined[b] = j
	}
	return j
}

// largest is the loop with the largest area; nil without loops.
func (j *joined) largest() *chain {
	var best *chain
	most := 0.0
	for i := range j.loops {
		if a := math.Abs(Loop(j.loops[i].path).Area()); a > most {
			best, most = &j.loops[i], a
		}
	}
	return best
}

// marks takes a layer's paths as marks of a kind.
func (r *reader) marks(b *bucket, kind MarkKind) {
	j := r.join(b)
	for _, list := range [2][]chain{j.loops, j.open} {
		for i, c := range list {
			if kind == Handle && c.closed {
				r.selfCrossings(j, &list[i])
			}
			r.profile.Marks = append(r.profile.Marks, Mark{Kind: kind, Layer: b.name, Path: c.path})
		}
	}
	if kind != Tip {
		return
	}
	for _, m := range b.points {
		m.Kind = kind
		r.profile.Marks = append(r.profile.Marks, m)
	}
}

// selfCrossings refuses a loop of a mark that crosses itself.
func (r *reader) selfCrossings(j *joined, c *chain) {
	found, ok := crossings([]*chain{c}, maxFaults+1)
	if !ok {
		r.fault(dxf.TooLarge, j.strands[c.strandAt(0)].from, nil, fmt.Sprintf("a mark of %d lines and arcs; draw it simpler", len(c.path)))
	}
	for _, k := range found {
		r.faultAt(dxf.SelfIntersection, j.strands[c.strandAt(k.segA)].from, k.at, "crosses or touches itself")
	}
}

// unused counts what lies on a layer without a role.
func (r *reader) unused(b *bucket) {
	r.leave(b)
	r.remarkLoops(b)
	for _, k := range b.kinds {
		r.skip(Skipped{Kind: k.kind, Layer: b.name, Why: "layer not used", Count: k.count})
	}
	for _, f := range b.far {
		r.skip(Skipped{Kind: f.Entity, Layer: b.name, Why: "too far off, layer not used", Count: 1})
	}
	for _, it := range b.unread {
		r.skip(Skipped{Kind: it.Kind, Layer: b.name, Why: "kind not read, layer not used", Count: 1})
	}
}

// maxLooks is at how many loops of layers that are not used is looked.
const maxLooks = 5000

// remarkLoops warns of closed loops within the outline on a layer that is not used: they may be holes.
func (r *reader) remarkLoops(b *bucket) {
	const enough = 20
	n := 0
	for i, c := range r.join(b).loops {
		if i < 10*enough && n < enough && r.looked < maxLooks {
			r.looked++
			if r.profile.Outline.Contains(c.path[0].A) {
				n++
			}
		}
	}
	if n > 0 {
		r.warn(0, "layer %s holds closed loops within the outline (%d or more) that were left out; holes belong on the outline's layer or on layer HOLES", b.name, n)
	}
}

// leave keeps a layer's geometry for the picture.
func (r *reader) leave(b *bucket) {
	for _, s := range b.strands {
		r.profile.Left = append(r.profile.Left, s.path)
	}
}

// unread leaves geometry of kinds that are not read out, and says so, where what its layer is there for is whole without
// it; else it is refused, as the cause of whatever else is wrong.
func (r *reader) unread(b *bucket, whole bool) {
	var kept []unread
	for _, it := range b.unread {
		if it.box != nil && len(r.profile.Outline) > 0 && apart(*it.box, r.profile.Outline.Bounds()) {
			r.skip(Skipped{Kind: it.Kind, Layer: b.name, Why: "kind not read, beside the outline", Count: 1})
			continue
		}
		kept = append(kept, it)
		if whole {
			r.skip(Skipped{Kind: it.Kind, Layer: b.name, Why: "kind not read", Count: 1})
		}
	}
	if len(kept) == 0 {
		return
	}
	first, more := kept[0], ""
	if n := len(kept) - 1; n > 0 {
		more = fmt.Sprintf(", and %d more on its layer", n)
	}
	if whole {
		r.warn(first.Line, "%s handle %X layer %s%s: geometry of this kind is not read and was left out; if it is of the knife, explode it, or turn it into polylines",
			first.Kind, first.Handle, b.name, more)
		return
	}
	var at *r2.Vec
	place := ""
	if first.box != nil {
		mid := r2.Scale(0.5, r2.Add(first.box.Min, first.box.Max))
		at, place = &mid, fmt.Sprintf("; its middle lies at (%.3f, %.3f) mm", mid.X, mid.Y)
	}
	known := r.faults
	r.faults = nil
	r.fault(dxf.Unsupported, first.Entity, at, "geometry of this kind is not read: explode it, or turn it into polylines"+more+place)
	r.faults = append(r.faults, known...)
}

// maxFaults is how many faults of the geometry are listed.
const maxFaults = 100

// fault records a fault at an entity and a point, which may be nil.
func (r *reader) fault(class dxf.Class, e *dxf.Entity, at *r2.Vec, what string) {
	f := &dxf.Fault{File: r.profile.File, Class: class, What: what, At: at}
	if e != nil {
		f.Line, f.Entity, f.Handle, f.Layer = e.Line, e.Kind, e.Handle, e.Layer
	}
	switch {
	case len(r.faults) < maxFaults:
		r.faults = append(r.faults, f)
	case len(r.faults) == maxFaults:
		r.faults = append(r.faults, &dxf.Fault{File: f.File, Line: f.Line, Class: dxf.TooMany, What: "there are more faults than these"})
	}
}

// remarks are the warnings about the drawing as a whole.
func (r *reader) remarks() {
	p := r.profile
	if strings.HasPrefix(p.UnitsBy, "not stated") {
		r.warn(0, "units %s; state them if that is wrong", p.UnitsBy)
	}
	dropped := 0
	for _, b := range r.buckets {
		dropped += b.dropped
	}
	if p.WidestGap > sameWithin {
		r.warn(0, "ends up to %.3g mm apart were joined", p.WidestGap)
	}
	if p.Duplicates > 0 {
		r.warn(0, "%d pieces drawn twice were taken once", p.Duplicates)
	}
	if dropped > 0 {
		r.warn(0, "%d pieces without length were dropped", dropped)
	}
	if r.tilted > 0 {
		r.warn(0, "%d pieces lie in a tilted plane; their view from above was taken", r.tilted)
	}
}

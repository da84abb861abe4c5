package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"formbuck/buck/bench"
	"formbuck/buck/fixture"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/buck/program"

	"gonum.org/v1/gonum/spatial/r2"
)

// Told is what is said on a set-up sheet that other rooms work out.
type Told struct {
	Holds    string // how well the sheath holds; empty: nothing is said of that
	Warnings []string
}

// SetUp is the sheet that is pinned over the bench: what is made for which hand, where the pieces go, tape,
// sheet, heat and press to start from, holes, hardware, what to check, and the usual cautions.
// It takes two pages at most, warnings aside, which stand first, as they were told, and one of steps in the order of
// work. Without a layout of the sheath it is silent of blanks, eyelets and trimming.
func SetUp(b path.Buck, l *layout.Sheath, hand measures.Hand, p drawing.Paper, told Told) []*drawing.Drawing {
	s := b.Knife.Spec
	w := drawing.NewList(fmt.Sprintf("%s: set-up, %s", s.Name, hand.Said()), p)
	if len(told.Warnings) > 0 {
		w.Heading("Warnings")
		for _, text := range told.Warnings {
			w.Tick(text)
		}
	}
	placing(w, b, hand)
	forming(w, b, l)
	job := bench.Of(b, l)
	holes(w, b, l)
	hardware(w, job)
	if d := fixture.Of(l); d != nil {
		onPlate(w, d)
	}
	cautions(w)
	shown(w, b)
	w.Keep(stepLines)
	w.Heading("In the order of work")
	for _, step := range job.Steps() {
		w.Tick(step.String())
	}
	checking(w, job, told.Holds)
	return w.Pages()
}

// stepLines is how many lines steps and checks take: a hand follows them on one page.
const stepLines = 42

func mm(v float64) string { return drawing.Millimetres(v) }

// placing says which pieces go where.
func placing(w *drawing.List, b path.Buck, hand measures.Hand) {
	k := b.Knife
	w.Heading("On the knife")
	faces := "none: a plain sheath has no boss"
	if len(b.Faces) > 0 {
		var names []string
		for _, f := range b.Faces {
			names = append(names, string(f))
		}
		faces = strings.Join(names, " and ") + " face"
	}
	w.Row("hand", fmt.Sprintf("%s: boss on %s, carried %s: this is variant key carry (faces as for a knife held in use, tip away, edge down)", hand, faces, k.Spec.Carry.Said()))
	w.Row("tape", fmt.Sprintf("%d layers of %s on each face of the blade, to %s before the tip; cut away under the pieces. Masking tape is rated for about 66 °C, high-temperature tape for about 177 °C (a general article on masking tape)",
		k.Spec.Tape.Layers, mm(k.Spec.Tape.Thickness), mm(k.Spec.Tape.TipGap)))
	w.Row("glue", "pieces lie on bare steel: slow two-part epoxy, cured as its maker says; cyanoacrylate softens at 80 to 100 °C (from memory). Under a solid piece it stays far cooler than the sheet")
	for _, s := range b.Bosses() {
		w.Row(strings.TrimSpace("standoff "+s.Name), fmt.Sprintf("middle %s from the throat towards the tip, %s%s; top %s over the face, set by the %s",
			mm(s.Top.Centre.X), beside(k, s.Top.Centre.Y), turned(s.Top.AngleDeg), mm(s.Height()), s.Governing().What))
	}
	for _, r := range b.All() {
		where := fmt.Sprintf("at the %s, from the handle or the mouth to %s from the throat; frees %s", r.Where(), mm(r.Blade(endOf(r)).X), mm(r.Deepest))
		what := "ramp"
		if r.Grip {
			what, where = "filler", fmt.Sprintf("on the handle, towards the %s; frees %s", r.Where(), mm(r.Deepest))
		}
		switch on := carried(b, r); r.For {
		case pieces.BossedFaces:
			where += fmt.Sprintf("; the one for %s, with room for the boss", on)
		case pieces.BareFaces:
			where += fmt.Sprintf("; the one for %s, without a boss", on)
		}
		if r.Lock != nil {
			where += fmt.Sprintf("; keeps a lock of %s", mm(r.Lock.Total))
		}
		w.Row(what, where)
	}
	if d := b.Drain; d != nil {
		w.Row("drain insert", fmt.Sprintf("over the tip by %s, out of it by %s; %s wide at the tip", mm(-d.From), mm(d.To), mm(2*d.Radius)))
	}
	w.Row("locator", locating(b))
}

// endOf is where a ramp's foot ends, at its side towards the spine.
func endOf(r *pieces.RampPiece) r2.Vec { return r2.Vec{X: r.Ends(), Y: r.Head.Max.Y} }

// carried says on which faces a ramp is.
func carried(b path.Buck, r *pieces.RampPiece) string {
	var on []string
	for _, f := range measures.BothFaces() {
		if slices.Contains(b.On(f), r) {
			on = append(on, string(f))
		}
	}
	if len(on) > 1 {
		return "each face"
	}
	return "the " + strings.Join(on, "") + " face"
}

// locating says how the locator is used, or what there is in its place.
func locating(b path.Buck) string {
	const otherwise = "the drawing at 1:1 shows where each piece belongs"
	bosses := b.Bosses()
	if len(bosses) == 0 || b.Drain == nil {
		return "none without a boss: " + otherwise
	}
	parts, err := pieces.NewLocators(bosses, b.Ramps, b.Drain)
	if err != nil {
		return fmt.Sprintf("none (%v): %s", err, otherwise)
	}
	l := parts[0]
	said := fmt.Sprintf("on wet glue, hook it on the spine, up to the %s: windows show the places", l.Front())
	if len(l.Hooks) == 1 {
		said += "; press it against the front, since it has one hook and may turn"
	}
	if !l.Exact() {
		said += "; it " + l.Stop()
	}
	if len(parts) > 1 {
		said += "; then the second part, up to the first"
	}
	return said
}

func abs(v float64) float64 { return max(v, -v) }

func turned(deg float64) string {
	if deg == 0 {
		return ""
	}
	return fmt.Sprintf(", turned by %.3g° from it", deg)
}

// beside says where a place lies across the blade.
func beside(k *pieces.Buck, y float64) string {
	switch {
	case abs(y) < 0.005:
		return "on the axis"
	case y < 0:
		return fmt.Sprintf("%s to the %s of the axis", mm(-y), k.Spec.Blade.Told("edge"))
	}
	return fmt.Sprintf("%s to the %s of the axis", mm(y), k.Spec.Blade.Told("spine"))
}

// forming says what to start from with sheet, heat and press.
func forming(w *drawing.List, b path.Buck, l *layout.Sheath) {
	s := b.Knife.Spec
	w.Heading("Sheet, heat and press: to start from, and to be timed in your shop")
	blanks := fmt.Sprintf("two blanks of %s thermoforming sheet, the extrusion's direction marked on both, at least 3 %% longer that way", mm(s.Sheet.Thickness))
	if l != nil {
		blanks = fmt.Sprintf("two blanks of %.0f x %.0f mm, %s thick, the extrusion's direction marked on both and laid %s the blade: %.1f mm of their size are for shrink that way",
			math.Ceil(l.Blank.Length), math.Ceil(l.Blank.Width), mm(s.Sheet.Thickness), l.Blank.Extrusion, l.Blank.Stretch)
	}
	w.Row("sheet", blanks+" (unclamped extruded sheet shrinks; guides of acrylic fabricators)")
	j := bench.Job{Spec: s}
	w.Row("heat", j.Heat())
	w.Row("press", j.Pressing())
	if all := b.Bosses(); len(all) > 0 {
		d := path.NewBoss(path.Highest(all))
		w.Row("over the boss", fmt.Sprintf("the sheet comes out thus, by a model of sheet that sticks where it touches: %s. Sizes here assume %s on top", d, mm(d.Taken)))
		if warning := d.Warning(); warning != "" {
			w.Row("weak", warning)
		}
	}
}

// holes says what to drill and how to trim.
func holes(w *drawing.List, b path.Buck, l *layout.Sheath) {
	s := b.Knife.Spec
	w.Heading("Drilling and trimming")
	eyelets := fmt.Sprintf("%s, through both sheets while they are together%s", mm(s.Eyelet.Hole), drilling(s))
	if l != nil {
		eyelets = fmt.Sprintf("%d of %s; the drawing says where", len(l.Eyelets), eyelets)
	}
	w.Row("eyelet holes", eyelets)
	if len(b.Bosses()) == 0 {
		w.Row("post holes", "none")
	} else {
		w.Row("post holes", fmt.Sprintf("%s, from the inside, with the drill's point in the dimple of the nub (%.3g° point, %.3g° nub); then chamfer 45°", mm(s.Hole.Diameter), s.Hole.PointAngleDeg, b.Standoff.Nubs[0].AngleDeg))
	}
	if l != nil {
		w.Row("trimming", trimming(l))
	}
}

// shown shows the buck with its pieces, on a face that carries a boss where one does, where the page has room for it.
func shown(w *drawing.List, b path.Buck) {
	face := measures.RightFace
	if len(b.Faces) > 0 {
		face = b.Faces[0]
	}
	d := overview(b, face)
	if d = d.Scaled(min(1, w.Width()/d.Size.X)); w.Left() >= d.Size.Y {
		w.Place(d)
	}
}

// onPlate tells of the plate that the sheath is made on, and shows it.
func onPlate(w *drawing.List, d *fixture.Design) {
	picture := d.Overview()
	picture = picture.Scaled(min(plateTall/picture.Size.Y, w.Width()/picture.Size.X, 1))
	w.Room(picture.Size.Y + plateRows)
	w.Heading("On its plate")
	for _, row := range d.Told() {
		w.Row(row[0], row[1])
	}
	w.Place(picture)
}

// How high the plate's picture may be on a sheet, and what heading and rows take over it, mm.
const (
	plateTall = 88.0
	plateRows = 55.0
)

// hardware says what there is to buy.
func hardware(w *drawing.List, j bench.Job) {
	w.Heading("Hardware, to be bought by these sizes and not by name")
	for _, item := range j.Hardware() {
		w.Tick(item.String())
	}
}

// drillSource is where the bounds of speed and feed are from: program.Materials has it in full.
const drillSource = "Carvill, Mechanical Engineer's Data Handbook, table 5.7.5"

// drilling says the speed and feed that the eyelets' holes are drilled at, as the programs have them.
func drilling(s measures.Spec) string {
	r, err := mill.Drilling(s, s.Eyelet.Hole)
	if err != nil {
		return ""
	}
	m := mill.DrillOptions(s).Material
	rim := program.Tool{Diameter: s.Eyelet.Hole}.Surface(r.Speed)
	return fmt.Sprintf("; %g rpm, which is %.0f m/min at the drill's rim (%s: at most %g), feed %g mm/min, which is %.3g mm a turn (%g to %g), as in the program; %s",
		r.Speed, rim, m.Name, m.DrillSpeed, r.Feed, r.Feed/r.Speed, m.DrillFeed.Least, m.DrillFeed.Most, drillSource)
}

// trimming says how the halves are trimmed.
func trimming(l *layout.Sheath) string {
	var pins []string
	check := ""
	for _, p := range l.Pins {
		if p.Check {
			check = fmt.Sprintf(", check pin in %d", p.Eyelet+1)
		} else {
			pins = append(pins, fmt.Sprint(p.Eyelet+1))
		}
	}
	m := l.Knife.Spec.Mill
	text := "split the pair first"
	switch {
	case l.Plate != nil:
		text += fmt.Sprintf("; each half over bushes of %s at stations 2 and 3 of the plate, the left one overturned about the blade's axis", mm(l.Plate.Pins[0].Diameter))
	case len(l.Pins) > 0:
		text += fmt.Sprintf("; each half on pins of %s in holes %s%s, the left one turned over about the blade's axis", mm(l.Pins[0].Diameter), strings.Join(pins, " and "), check)
	}
	return text + fmt.Sprintf("; cutter %s, %s left for the finishing pass. The programs' heads state zero, stock, clamps, speeds and feeds", mm(m.Cutter), mm(m.Allowance))
}

// checking says what to look at on the finished sheath.
func checking(w *drawing.List, j bench.Job, holds string) {
	w.Heading("On the finished sheath")
	if holds != "" {
		w.Row("reckoned", "the sheath "+holds)
	}
	for _, c := range j.Checks() {
		w.Tick(c)
	}
}

// cautions are the usual ones.
func cautions(w *drawing.List) {
	w.Keep(24) // all of them on one page
	w.Heading("With care: " + bench.First)
	for _, c := range bench.Cautions() {
		w.Row(c.What, c.Say)
	}
}

package path

import (
	"fmt"
	"math"
	"strings"

	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// Row is one line of what a report tells: what was looked at, what was found, and what is asked for; empty where
// that is nothing, or as in the row before.
type Row struct{ What, Found, Asked string }

// Verdict is the answer in a line.
func (r *Report) Verdict() string {
	switch {
	case r.Free() && r.Lock != nil:
		return fmt.Sprintf("draws freely and locks by %.2f mm", r.Lock.Total)
	case r.Free():
		return "draws freely"
	}
	return "binds " + Paired(r.Binds)[0].String()
}

// Pair is a bind as it is told: once where both faces have it.
type Pair struct {
	Bind
	On string // which faces
}

// Paired are the binds of both faces, those that both have taken together.
func Paired(binds []Bind) []Pair {
	var all []Pair
next:
	for _, b := range binds {
		for i, a := range all {
			if a.Face != b.Face && a.Side == b.Side && math.Abs(a.Depth-b.Depth) < 0.02 && r2.Norm(r2.Sub(a.At, b.At)) < 5 {
				all[i].On = "both faces"
				continue next
			}
		}
		all = append(all, Pair{Bind: b, On: fmt.Sprintf("the %s face", b.Face)})
	}
	return all
}

// String says where it binds and by how much.
func (p Pair) String() string {
	return fmt.Sprintf("at (%.1f, %.1f) by %.2f mm on %s, at the %s", p.At.X, p.At.Y, p.Depth, p.On, p.Place)
}

// Rows are what was found and what is asked for.
func (r *Report) Rows() []Row {
	var t []Row
	add := func(what, found, asked string) { t = append(t, Row{what, found, asked}) }
	ramps := r.With.Buck.All()
	for i, p := range ramps {
		add(first(i, "without the ramps"), undercut(p), "")
	}
	for i, b := range Paired(r.Bare) {
		if len(ramps) == 0 {
			add(first(i, "without the ramps"), "binds "+b.String(), "")
		}
	}
	if len(r.Bare)+len(ramps) == 0 {
		add("without the ramps", "draws freely", "")
	}
	if r.Filled > 0 {
		add("ramps fill", fmt.Sprintf("%.0f mm3 on both faces", r.Filled), "")
	}
	if said, warns := r.With.shelf(); said != "" && !warns {
		add("beside the blade", said, "")
	}
	for i, b := range Paired(r.Binds) {
		add(first(i, "with the pieces"), "binds "+b.String(), "0.05 mm at most")
	}
	if r.Free() {
		add("with the pieces", "draws freely", "0.05 mm at most, walls 0.2 mm aside")
	}
	for i, b := range Paired(r.Rubs) {
		add(first(i, "rubs"), fmt.Sprintf("%s, %.2f mm2", b, b.Area), first(i, fmt.Sprintf("%.2g mm deep and %d mm2 at most", MostRub, MostRubArea)))
	}
	t = append(t, r.holdRows()...)
	if b := r.Boss; b != nil {
		add("sheet over the boss", b.String(), fmt.Sprintf("sizes here assume %.2f mm on top", b.Taken))
	}
	t = append(t, r.plateRows()...)
	if d := r.Drain; d != nil {
		add("water held in the drain", fmt.Sprintf("%.1f mm high in Ø %.2f mm", d.Head, d.Diameter), "less than 7 mm")
	}
	return t
}

// undercut is what a ramp fills, as it is told wherever the piece is: on one half, of the bare knife, with nothing allowed for.
func undercut(p *pieces.RampPiece) string {
	said := fmt.Sprintf("an undercut of %.2f mm at (%.1f, %.1f), at the %s", p.Deepest, p.DeepAt.X, p.DeepAt.Y, p.Place())
	switch p.For {
	case pieces.BossedFaces:
		said += ", beside the boss"
	case pieces.BareFaces:
		said += ", on the face without a boss"
	}
	return said
}

// holdRows are the rows of lock and rattle.
func (r *Report) holdRows() []Row {
	var t []Row
	add := func(what, found, asked string) { t = append(t, Row{what, found, asked}) }
	h := r.Hold
	if l := r.Lock; l != nil {
		add("lock", fmt.Sprintf("%.2f mm on both halves together, at (%.1f, %.1f)", l.Total, l.At.X, l.At.Y), lockAsked(l))
		add("pull over the lock", fmt.Sprintf("%s, strain %.2f to %.2f %%", newtons(l.Draw), 100*l.Strain.Pinned, 100*l.Strain.Clamped), fmt.Sprintf("strain under %.2f %%", 100*h.Material.Often()))
	} else {
		add("lock", "none: friction alone holds the knife", "0.2 to 0.6 mm with ramp.lock")
	}
	t = append(t, r.Held.row())
	add("play on the faces", fmt.Sprintf("%.2f mm over the tape", h.Thickness), "")
	add("shrink takes", fmt.Sprintf("%.2f mm of the width, %.2f mm of the length", h.Width, h.Material.Shrink*h.Length), "")
	var places []string
	for _, c := range h.Contacts {
		places = append(places, fmt.Sprintf("%.1f mm2 at (%.1f, %.1f)", c.Area, c.At.X, c.At.Y))
	}
	if places == nil {
		places = []string{"none"}
	}
	add("bare contacts at the tip", strings.Join(places, ", "), "one or two on each face")
	add("tape stops before the tip", fmt.Sprintf("%.1f mm", h.TapeStop), fmt.Sprintf("%.1f mm before a contact", h.TapeRun))
	add("room before the tip", fmt.Sprintf("%.1f mm", h.TipGap), fmt.Sprintf("%.1f mm and more", h.TipNeed))
	return t
}

// lockAsked is what the lock should be.
func lockAsked(l *Lock) string {
	if l.Asked > 0 {
		return fmt.Sprintf("%.2f mm, as ramp.lock", l.Asked)
	}
	return "0.2 to 0.6 mm"
}

// newtons is a bracket of forces.
func newtons(f Range) string {
	if math.IsInf(f.Clamped, 1) {
		return "locks by itself"
	}
	return fmt.Sprintf("%.0f to %.0f N", f.Pinned, f.Clamped)
}

// first is the name of a group of rows, on its first row only.
func first(i int, name string) string {
	if i > 0 {
		return ""
	}
	return name
}

// Warnings are what the maker should know beside the answer.
func (r *Report) Warnings() []string {
	var all []string
	warn := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	m := r.Hold.Material
	if r.With.Centre != nil && len(r.With.Buck.Ramps)+len(r.With.Buck.Bare) > 0 {
		warn("the ramps are made for a straight draw, and the knife is drawn along an arc")
	}
	if said, warns := r.With.shelf(); warns {
		warn("%s", said)
	}
	for _, b := range Paired(r.Binds) {
		if _, strain := r.Opening(b.Bind); strain.Clamped > m.Often() {
			warn("forcing the knife past (%.1f, %.1f) strains the sheet by %.1f to %.1f %%; it bears %.2f %% once and %.2f %% again and again",
				b.At.X, b.At.Y, 100*strain.Pinned, 100*strain.Clamped, 100*m.Once(), 100*m.Often())
		}
	}
	if l := r.Lock; l != nil && l.Strain.Clamped > m.Often() {
		warn("the lock strains the sheet by %.1f to %.1f %%; it bears %.2f %% again and again", 100*l.Strain.Pinned, 100*l.Strain.Clamped, 100*m.Often())
	}
	if said := r.Held.Warning(); said != "" {
		warn("%s", said)
	}
	for _, p := range r.Plates {
		if !p.Passes() {
			warn("%s %s", p.Name(), p.Said())
		}
	}
	if len(r.Hold.Contacts) == 0 {
		warn("nothing lies on the bare tip, so it may rattle: more tape.tip_gap, or less drain.lap")
	}
	if r.Hold.TipGap < r.Hold.TipNeed {
		warn("the tip has %.1f mm of room and needs %.1f mm: the sheath shrinks on to it", r.Hold.TipGap, r.Hold.TipNeed)
	}
	if b := r.Boss; b != nil && b.Warning() != "" {
		warn("%s", b.Warning())
	}
	return all
}

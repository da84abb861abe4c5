package record

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// What can change beside the keys of a variant file.
const (
	DrawingChange   = "drawing"   // what the drawing's file holds
	ToleranceChange = "tolerance" // of the meshes
	ProgramChange   = "program"   // formbuck itself
)

// Change is one thing that is not as it was.
type Change struct {
	What     string // a key, or one of the changes above
	Was, Now string
}

// String is the change in words.
func (c Change) String() string {
	switch c.What {
	case DrawingChange:
		return "the drawing changed"
	case ProgramChange:
		return "formbuck itself changed"
	}
	word := func(s string) string {
		if s == "" {
			return "none"
		}
		return s
	}
	return fmt.Sprintf("%s %s -> %s", c.What, word(c.Was), word(c.Now))
}

// State is what became of a piece.
type State string

// The states. Good is a piece that was printed and can be used on.
const (
	Good  State = "good"
	Other State = "changed"
	Added State = "new"
	Gone  State = "gone"
)

// Outcome is what became of one piece, and why.
type Outcome struct {
	State    State
	Was, Now Piece    // zero where there is none
	Because  []Change // each of which does it by itself; with Together, only all of them at once
	Together bool
}

// Piece is the piece as it is, or as it was where it is gone.
func (o Outcome) Piece() Piece {
	if o.State == Gone {
		return o.Was
	}
	return o.Now
}

// Delta is by how much the piece changed: its governing figure if that changed, else its size, else
// its volume. Empty for pieces that are new or gone.
func (o Outcome) Delta() string {
	a, b := o.Was, o.Now
	const shown = 0.005
	switch {
	case o.State != Other:
		return ""
	case math.Abs(a.Value-b.Value) >= shown:
		text := fmt.Sprintf("%.2f -> %.2f mm %s", a.Value, b.Value, b.Figure)
		if _, by, found := strings.Cut(b.Governed, ": "); found {
			text += ", set by: " + by
		}
		return text
	case slices.ContainsFunc([]int{0, 1, 2}, func(i int) bool { return math.Abs(a.Size[i]-b.Size[i]) >= shown }):
		return fmt.Sprintf("%s -> %s mm", a.extent(), b.extent())
	case math.Abs(a.Volume-b.Volume) >= 10*shown:
		return fmt.Sprintf("%.1f -> %.1f mm3", a.Volume, b.Volume)
	default:
		return "by less than 0.01 mm, or where it is moved to"
	}
}

func (p Piece) extent() string {
	return fmt.Sprintf("%.2f x %.2f x %.2f", p.Size[0], p.Size[1], p.Size[2])
}

// Report is how two records differ.
type Report struct {
	Changes  []Change
	Outcomes []Outcome // pieces of both, in the order of the newer, then those that are gone
}

// Changed tells whether any piece is not as it was.
func (r *Report) Changed() bool {
	return slices.ContainsFunc(r.Outcomes, func(o Outcome) bool { return o.State != Good })
}

// mark tells whether the change is of what is engraved, which decides nothing of a piece's use.
func (c Change) mark() bool { return c.What == "name" || strings.HasSuffix(c.What, ".mark") }

// Trial computes pieces of the kinds named as they would be otherwise: their digests by label. An error says that there
// would be none.
type Trial struct {
	// Changed are those of the earlier variant with one thing changed.
	Changed func(c Change, kinds []string) (map[string]string, error)
	// Marked are those of the newer variant with what is engraved in the earlier one, for which the keys are given.
	Marked func(keys, kinds []string) (map[string]string, error)
}

// Compare tells how two records differ and why. A piece that differs in its mark alone is still good. With one change
// there is nothing to try.
func Compare(older, newer *Record, try Trial) *Report {
	r := &Report{Changes: changes(older, newer)}
	for _, now := range newer.Pieces {
		was, found := older.piece(now)
		o := Outcome{State: Other, Was: was, Now: now}
		switch {
		case !found:
			o.State = Added
		case was.SHA256 == now.SHA256:
			o.State = Good
		}
		r.Outcomes = append(r.Outcomes, o)
	}
	for _, was := range older.Pieces {
		if _, found := newer.piece(was); !found {
			r.Outcomes = append(r.Outcomes, Outcome{State: Gone, Was: was})
		}
	}
	if r.Changed() {
		r.unmark(try)
	}
	if r.Changed() {
		r.reason(try)
	}
	return r
}

// unmark finds the pieces that are not what they were for their marks alone.
func (r *Report) unmark(try Trial) {
	var keys []string
	for _, c := range r.Changes {
		if c.mark() {
			keys = append(keys, c.What)
		}
	}
	if len(keys) == 0 {
		return
	}
	digests, err := try.Marked(keys, r.kinds())
	if err != nil {
		return
	}
	for i := range r.Outcomes {
		if o := &r.Outcomes[i]; o.State == Other && digests[o.Now.Label()] == o.Was.SHA256 {
			o.State = Good
		}
	}
}

// kinds are those of the pieces that are not good, each once.
func (r *Report) kinds() []string {
	var kinds []string
	for _, o := range r.Outcomes {
		if k := o.Piece().Kind; o.State != Good && !slices.Contains(kinds, k) {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// changes are the keys whose value is not as it was, if either file gives them: a value that follows
// from others is no reason of its own.
func changes(older, newer *Record) []Change {
	var all []Change
	if older.Drawing.SHA256 != newer.Drawing.SHA256 {
		all = append(all, Change{What: DrawingChange})
	}
	if older.Tolerance != newer.Tolerance {
		all = append(all, Change{What: ToleranceChange, Was: tolerance(older.Tolerance), Now: tolerance(newer.Tolerance)})
	}
	seen := make(map[string]bool)
	for _, k := range slices.Concat(newer.Keys, older.Keys) {
		if seen[k.Path] || k.Path == "drawing.file" || k.Path == "base" {
			continue
		}
		seen[k.Path] = true
		was, gaveWas := older.value(k.Path)
		now, gaveNow := newer.value(k.Path)
		if was != now && (gaveWas || gaveNow || k.Path == "name") {
			all = append(all, Change{What: k.Path, Was: was, Now: now})
		}
	}
	if len(all) == 0 && older.Program != newer.Program {
		all = append(all, Change{What: ProgramChange, Was: older.Program, Now: newer.Program})
	}
	return all
}

func tolerance(mm float64) string {
	if mm == 0 {
		return "as usual"
	}
	return strconv.FormatFloat(mm, 'g', -1, 64) + " mm"
}

// reason finds which of the changes does what, each tried by itself. What is engraved is no reason.
func (r *Report) reason(try Trial) {
	changes, kinds := slices.DeleteFunc(slices.Clone(r.Changes), Change.mark), r.kinds()
	if len(changes) == 1 {
		for i := range r.Outcomes {
			if o := &r.Outcomes[i]; o.State != Good {
				o.Because = changes
			}
		}
		return
	}
	for _, c := range changes {
		digests, err := try.Changed(c, kinds)
		for i := range r.Outcomes {
			o := &r.Outcomes[i]
			if err == nil && o.State != Good && digests[o.Piece().Label()] != o.Was.SHA256 {
				o.Because = append(o.Because, c)
			}
		}
	}
	for i := range r.Outcomes {
		if o := &r.Outcomes[i]; o.State != Good && len(o.Because) == 0 && len(changes) > 0 {
			o.Because, o.Together = changes, true
		}
	}
}

// Lines are the report in words: a line for what changed in the same way, with its reason, and one
// for what is still good.
func (r *Report) Lines() []string {
	var lines, good []string
	at := make(map[string]int)
	for _, o := range r.Outcomes {
		label := strings.TrimSuffix(o.Piece().Label(), " any")
		if o.State == Good {
			good = append(good, label)
			continue
		}
		rest := o.rest()
		if i, seen := at[rest]; seen {
			lines[i] += ", " + label
			continue
		}
		at[rest] = len(lines)
		lines = append(lines, label)
	}
	for rest, i := range at {
		lines[i] += rest
	}
	if len(good) > 0 {
		lines = append(lines, "still good: "+strings.Join(good, ", "))
	}
	return lines
}

// rest is what is said of a piece after its name.
func (o Outcome) rest() string {
	text := ": "
	switch o.State {
	case Added:
		text += "was not made before"
	case Gone:
		text += "is no part of the job any more"
	default:
		text += o.Delta()
	}
	var why []string
	for _, c := range o.Because {
		why = append(why, c.String())
	}
	joint := " and "
	if o.Together {
		joint = ", together with "
	}
	if len(why) > 0 {
		text += ", because " + strings.Join(why, joint)
	}
	return text
}

package variant

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"formbuck/buck/measures"
	"formbuck/buck/quantity"
)

// term is a multiple of a key's value.
type term struct {
	times int64
	path  string
}

// bound is two sums of which the first must not be more than the second; with below set it must be
// less.
type bound struct {
	small, large []term
	below        bool
	blameLarge   bool                 // the fault is rather the second's
	when         func(*resolver) bool // nil: always
	why          string               // what is wrong where it does not hold
}

// one is the sum of the values of the keys.
func one(paths ...string) []term {
	terms := make([]term, len(paths))
	for i, path := range paths {
		terms[i] = term{1, path}
	}
	return terms
}

// bounds are the relations between keys that hold for every knife, whatever its drawing.
func bounds() []bound {
	convex := func(r *resolver) bool { return r.words["blade.grind"] == string(measures.Convex) }
	return []bound{
		{small: one("blade.tip_thickness"), large: one("blade.thickness"), why: "the tip is thicker than the heel"},
		{
			small: one("blade.edge_thickness"), large: one("blade.thickness"), below: true,
			why: "the edge is not thinner than the stock",
		},
		{
			small: one("blade.edge_thickness"), large: one("blade.tip_thickness"),
			why: "the edge is thicker than the tip",
		},
		{
			// Half the thickness at mid bevel is (edge + stock)/4 on the chord; with the bulge it may not
			// pass half the stock.
			small: []term{{4, "blade.bulge"}, {1, "blade.edge_thickness"}}, large: one("blade.thickness"),
			when: convex, why: "the bulge stands out of the stock",
		},
		{
			small: one("blade.thickness"), large: one("handle.thickness"), blameLarge: true,
			why: "the handle is thinner than the blade",
		},
		{
			small: []term{{2, "handle.rounding"}}, large: one("handle.thickness"),
			why: "the rounding is more than half of the handle's thickness",
		},
		{
			small: one("sheet.boss_thickness"), large: one("sheet.thickness"),
			why: "the sheet is thicker over the boss than before forming",
		},
		{small: one("plate.width"), large: one("plate.length"), why: "the plate is wider than long"},
		{
			small: one("plate.post_spacing", "plate.post_diameter"), large: one("plate.length"),
			why: "the posts stand out over the plate's ends",
		},
		{small: one("plate.post_diameter"), large: one("plate.width"), why: "the posts are wider than the plate"},
		{
			small: one("plate.post_diameter"), large: one("plate.post_spacing"), below: true,
			why: "the posts run into each other",
		},
		{small: one("plate.post_diameter"), large: one("hole.diameter"), why: "the posts do not pass their holes"},
		{small: one("clip.width"), large: one("clip.length"), why: "the clip is wider than long"},
		{
			small: one("eyelet.hole"), large: one("eyelet.flange"), below: true,
			why: "the eyelet's flange falls through its hole",
		},
		{
			small: one("hole.point_angle"), large: one("nub.angle"), below: true, blameLarge: true,
			why: "the nub is not blunter than the drill, whose lips would land before its tip",
		},
		{
			small: one("nub.margin"), large: one("hole.diameter"), below: true,
			why: "the margin leaves nothing of the nub",
		},
		{
			small: one("nub.base", "nub.margin"), large: one("hole.diameter"),
			when: func(r *resolver) bool { base := r.numbers["nub.base"]; return base != nil && base.Sign() > 0 },
			why:  "the nub's base leaves less than its margin in the hole",
		},
	}
}

// checkTogether checks what keys ask of each other. A key at fault by itself is not blamed again.
func (r *resolver) checkTogether() {
	for _, b := range append(bounds(), millBounds()...) {
		r.checkBound(b)
	}
	r.checkGrind(string(measures.Hollow), "blade.wheel_radius")
	r.checkGrind(string(measures.Convex), "blade.bulge")
	r.checkDirections()
	r.checkDialect()
}

// checkDialect refuses a tool change by M6 in programs that have no word for it.
func (r *resolver) checkDialect() {
	const key = "mill.tool_change"
	if r.words["mill.dialect"] == measures.PlainDialect && r.words[key] == measures.ByM6 {
		r.faults = append(r.faults, &Fault{
			At: r.variant.Where(key), Key: key, Problem: Conflict, What: "plain programs change no tool",
			Found: r.toldKey(key), Expected: quoted(measures.ByHand) + ", or mill.dialect " + quoted(measures.FullDialect),
		})
	}
}

func (r *resolver) checkBound(b bound) {
	small, large := r.sum(b.small), r.sum(b.large)
	if small == nil || large == nil || b.when != nil && !b.when(r) {
		return
	}
	order, relation := small.Cmp(large), "at most"
	if b.below {
		relation = "less than"
	}
	if order < 0 || order == 0 && !b.below {
		return
	}
	blamed := r.blamed(slices.Concat(b.small, b.large))
	if b.blameLarge {
		blamed = r.blamed(slices.Concat(b.large, b.small))
	}
	r.faults = append(r.faults, &Fault{
		At: r.variant.Where(blamed), Key: blamed, Problem: Conflict, What: b.why,
		Found: r.told(b.small, small), Expected: relation + " " + r.told(b.large, large),
	})
}

// sum is the sum of the terms, or nil where one of their keys has no value.
func (r *resolver) sum(terms []term) *big.Rat {
	sum := new(big.Rat)
	for _, t := range terms {
		value := r.numbers[t.path]
		if value == nil {
			return nil
		}
		sum.Add(sum, new(big.Rat).Mul(value, big.NewRat(t.times, 1)))
	}
	return sum
}

// blamed is the first key among the terms that the file gives.
func (r *resolver) blamed(terms []term) string {
	for _, t := range terms {
		if r.variant.Where(t.path).Line > 0 {
			return t.path
		}
	}
	return terms[0].path
}

// told is the terms with their values and places, and their sum where there is more than one.
func (r *resolver) told(terms []term, sum *big.Rat) string {
	parts := make([]string, len(terms))
	for i, t := range terms {
		parts[i] = r.toldKey(t.path)
		if t.times > 1 {
			parts[i] = fmt.Sprintf("%d x %s", t.times, parts[i])
		}
	}
	text := strings.Join(parts, " + ")
	if len(terms) > 1 || terms[0].times > 1 {
		text += " = " + inUnit(r.known.byPath[terms[0].path].Kind, quantity.Format(sum))
	}
	return text
}

// toldKey is a key with its value and the line it comes from.
func (r *resolver) toldKey(path string) string {
	key := r.known.byPath[path].Key
	value := r.numbers.measure(key)
	if value == "" {
		value = quoted(r.words[path])
	}
	switch at := r.variant.Where(path); {
	case at.Line > 0 && at.File != r.doc.source.file:
		return fmt.Sprintf("%s %s (%s)", path, value, at)
	case at.Line > 0:
		return fmt.Sprintf("%s %s (line %d)", path, value, at.Line)
	}
	if _, given := r.doc.settings[path]; given { // and in no file
		return path + " " + value
	}
	return fmt.Sprintf("%s %s (not given)", path, value)
}

// checkGrind asks for the measure that a grind needs.
func (r *resolver) checkGrind(grind, measure string) {
	_, written := r.doc.settings[measure]
	if r.words["blade.grind"] != grind || written || r.doc.meant[measure] {
		return
	}
	key := r.known.byPath[measure]
	r.faults = append(r.faults, &Fault{
		At: r.variant.Where("blade.grind"), Key: measure, Problem: Missing,
		What:     "missing, and " + r.toldKey("blade.grind") + " needs it",
		Expected: key.expected(), Hint: key.Doc,
	})
}

// leastTurn is the least angle, in degrees, that the edge's direction must have to the line from
// butt to tip for the two to say which way up the knife lies. Our own, no source.
const leastTurn = 30

// checkDirections refuses an edge that faces along the blade.
func (r *resolver) checkDirections() {
	tip, edge := r.variant.Drawing.TipDeg, r.variant.Drawing.EdgeDeg
	if tip == nil || edge == nil {
		return
	}
	turn := math.Abs(math.Remainder(*edge-*tip, 180))
	if turn >= leastTurn {
		return
	}
	r.faults = append(r.faults, &Fault{
		At: r.variant.Where("drawing.edge"), Key: "drawing.edge", Problem: Conflict,
		What:     "the edge faces along the blade",
		Found:    r.toldKey("drawing.edge") + " and " + r.toldKey("drawing.tip"),
		Expected: fmt.Sprintf("at least %d deg between them, and from the opposite", leastTurn),
	})
}

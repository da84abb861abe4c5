package paper

import (
	"fmt"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/path"
)

// Step is one step from the bare buck to the finished sheath: what a hand does, and how.
type Step struct{ Name, Do string }

// Steps are the steps of a sheath in their order, for all papers that name them. Without a layout of the sheath they are
// silent of what the layout decides. All of it is common practice, no source, but for what the variant measures.
func Steps(b path.Buck, l *layout.Sheath) []Step {
	s := b.Knife.Spec
	steps := []Step{
		{"glue", "clean the steel; glue the pieces down bare to bare, standoff first, the locator over them while the glue is wet. " +
			"A glue that stands the hot sheet: slow two-part epoxy, fully cured"},
		{"tape", fmt.Sprintf("%d layers on each face, cut away round the pieces, the edge covered", s.Tape.Layers)},
		{"blanks", "protective film off; the good side outwards, the extrusion's direction the same way on both"},
		{"heat", "both sheets alike, hung or turned, watched all the time"},
		{"press", "buck between the sheets, foam above and below, shut at once; leave it shut until it is cold to the hand"},
	}
	steps = append(steps, drilled(b, l)...)
	steps = append(steps,
		Step{"take out", "draw the buck out of the mouth, straight, away from the other hand; look for a place that rubbed"},
		Step{"split", "a broad thin blade in from the drain, along the middle plane, the pair in a vice, both hands behind the blade"},
		Step{"trim", "each half on its pins, formed side up; keep the waste until the halves lie on each other"},
	)
	if len(b.Bosses()) > 0 {
		steps = append(steps,
			Step{"post holes", fmt.Sprintf("%s, from the inside, the drill's point in the dimple, a block of wood behind the boss", mm(s.Hole.Diameter))})
	}
	steps = append(steps,
		Step{"deburr", "all holes and edges, with a countersink turned by hand; outer edges broken by 0.5 mm"},
		Step{"mouth", "chamfered inside on both halves and sanded smooth"},
	)
	if len(b.Bosses()) > 0 {
		steps = append(steps, Step{"plate", "in from the inside, posts through their holes; it lies flat, with nothing under it"})
	}
	steps = append(steps,
		Step{"eyelets", "one trial set on scrap of two sheets first; then from the mouth to the drain, both halves pinned"},
		Step{"rim", "levelled and polished after the eyelets are in, both halves as one"},
	)
	if len(b.Bosses()) > 0 {
		steps = append(steps, Step{"clip", "on, its screws tight, their ends clear of the blade"})
	}
	return append(steps, Step{"check", "as below, with the knife that it is for"})
}

// drilled are the steps at the mill while the buck is in the pair, as the variant lays it.
func drilled(b path.Buck, l *layout.Sheath) []Step {
	how := map[string]string{
		measures.ByHoles:   "on two pins through the knife's own holes",
		measures.ByCradle:  "its handle in the cradle",
		measures.ByGuide:   "on two pins through the knife's own holes, under the printed guide",
		measures.ByDrawing: "under the drawing at 1:1",
		measures.FromPunch: "from a punched mark",
	}[b.Knife.Spec.Fixture.Register]
	if how == "" {
		how = "as the mill's sheet says"
	}
	if l == nil {
		return []Step{{"drill", "the pair together, the buck in it, " + how}}
	}
	return []Step{
		{"to the mill", "with the buck still in the pair: it is what the pair lies by, " + how},
		{"drill", fmt.Sprintf("%d eyelet holes of %s through both sheets; nothing is pulled before they are drilled", len(l.Eyelets), mm(b.Knife.Spec.Eyelet.Hole))},
	}
}

// working tells the steps in their order.
func working(b path.Buck, l *layout.Sheath, tick func(string)) {
	for i, s := range Steps(b, l) {
		tick(fmt.Sprintf("%d. %s: %s", i+1, s.Name, s.Do))
	}
}

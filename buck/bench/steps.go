package bench

import (
	"fmt"

	"formbuck/buck/measures"
)

// Stage is what of a sheath's way through the shop a step is part of; those after the buck and the cutting bear the names of
// a batch's steps.
type Stage string

// The stages, in their order.
const (
	Buck  Stage = "buck"
	Cut   Stage = "cut"
	Heat  Stage = "heat"
	Press Stage = "press"
	Drill Stage = "drill"
	Split Stage = "split"
	Trim  Stage = "trim"
	End   Stage = "finish"
	Rivet Stage = "rivet"
)

// PostHoles is the step that is done at the mill or by hand, as the shop has it.
const PostHoles = "post holes"

// Step is one step: its number among all, what a hand does, and how.
type Step struct {
	Number int
	Stage  Stage
	Name   string
	Do     string
}

// String is the step as papers have it, word for word.
func (s Step) String() string { return fmt.Sprintf("%d. %s: %s", s.Number, s.Name, s.Do) }

// Steps are the steps in their order, for all papers that name them. All of it is common practice, no source, but for what
// the variant measures.
func (j Job) Steps() []Step {
	var all []Step
	add := func(stage Stage, name, format string, args ...any) {
		all = append(all, Step{Number: len(all) + 1, Stage: stage, Name: name, Do: fmt.Sprintf(format, args...)})
	}
	j.forming(add)
	j.milling(add)
	j.finishing(add)
	return all
}

// At are the steps of some stages.
func At(all []Step, stages ...Stage) []Step {
	var some []Step
	for _, s := range all {
		for _, one := range stages {
			if s.Stage == one {
				some = append(some, s)
			}
		}
	}
	return some
}

// adds takes up a step.
type adds func(stage Stage, name, format string, args ...any)

// forming are the steps to the cold pair.
func (j Job) forming(add adds) {
	tape := j.Spec.Tape
	first := ""
	if j.boss() {
		first = ", standoff first"
	}
	if j.Locator {
		first += ", the locator over them while the glue is wet"
	}
	add(Buck, "glue", "clean the steel; glue the pieces down on it bare%s. A glue that stands the hot sheet: slow two-part epoxy, fully cured", first)
	switch {
	case tape.Layers > 0:
		add(Buck, "tape", "%s on each face, of a kind that stands the heat, cut away round the pieces; the edge covered", layers(tape.Layers))
	default:
		add(Buck, "tape", "none on the faces; the edge covered")
	}
	add(Cut, "blanks", "protective film off; the good side outwards, the extrusion's direction the same way on both")
	add(Heat, "heat", "both sheets alike, hung or turned, watched all the time")
	add(Press, "press", "buck between the sheets, foam above and below, shut at once")
	add(Press, "cool", "leave the press shut until the pair is cold to the hand")
}

func layers(n int) string {
	if n == 1 {
		return "1 layer"
	}
	return fmt.Sprintf("%d layers", n)
}

// milling are the steps from the cold pair to two trimmed halves.
func (j Job) milling(add adds) {
	by := j.Spec.Fixture.Register == measures.ByGuide && !j.OnPlate // without a mill
	to := "to the mill"
	if by {
		to = "to the drill"
	}
	add(Drill, to, "with the buck still in the pair: it is what the pair lies by, %s", j.lies())
	holes := "the pair together, the buck in it"
	if j.Sheath != nil {
		holes = fmt.Sprintf("%d eyelet holes of %s through both sheets", len(j.Sheath.Eyelets), mm(j.Spec.Eyelet.Hole))
	}
	add(Drill, "drill", "%s; nothing is pulled before they are drilled", holes)
	add(Split, "take out", "draw the buck out of the mouth, straight, away from the other hand; look for a place that rubbed")
	add(Split, "split", "a broad thin blade in from the drain, along the middle plane, the pair in a vice, both hands behind the blade")
	switch {
	case by:
		add(Trim, "trim", "each half by the printed pattern, on two of its own eyelets' holes: saw, router table with a bearing, or sander; keep the waste until the halves lie on each other")
	case j.OnPlate:
		add(Trim, "trim", "the right half at station 2 of the plate, the left one at station 3, overturned about the blade's axis: each formed side up on its spoil sheet "+
			"over three bushes, a screw and a washer in each, tape under the waste; keep the waste until the halves lie on each other by two pins through their eyelets' holes")
	default:
		add(Trim, "trim", "each half on its pins, formed side up; keep the waste until the halves lie on each other")
	}
	if j.boss() {
		add(Trim, PostHoles, "%s, where no program drilled them before the trimming: from the inside, the drill's point in the dimple, a block of wood behind the boss", mm(j.Spec.Hole.Diameter))
	}
}

// lies is what the pair lies by while it is drilled, as the variant has it.
func (j Job) lies() string {
	register := map[string]string{
		measures.ByHoles:   "on two pins through the knife's own holes",
		measures.ByCradle:  "its handle in the cradle",
		measures.ByGuide:   "on two pins through the knife's own holes, under the printed guide",
		measures.ByDrawing: "under the drawing at 1:1",
		measures.FromPunch: "from a punched mark",
	}[j.Spec.Fixture.Register]
	if register == "" {
		register = "as the mill's sheet says"
	}
	if !j.OnPlate {
		return register
	}
	return register + ", at station 1 of the plate, right face up, the flat rim on the supports; the rest at its height, the strap over the handle, two screws"
}

// finishing are the steps from the trimmed halves to the sheath.
func (j Job) finishing(add adds) {
	add(End, "deburr", "all holes and edges, with a countersink turned by hand; outer edges broken by 0.5 mm")
	add(End, "mouth", "chamfered inside on both halves and sanded smooth")
	if j.boss() {
		add(End, "plate", "in from the inside, posts through their holes; it lies flat, with nothing under it")
	}
	add(Rivet, "eyelets", "one trial set on scrap of two sheets first; then from the mouth to the drain, both halves pinned")
	add(Rivet, "rim", "levelled and polished after the eyelets are in, both halves as one")
	if j.boss() {
		add(Rivet, "clip", "on, its screws tight, their ends clear of the blade")
	}
	add(Rivet, "check", "as below, with the knife that it is for")
}

// Checks are what to look at on the finished sheath, for all papers that name it.
func (j Job) Checks() []string {
	edge := "the edge touches"
	if j.Spec.Blade.Edges > 1 {
		edge = "both edges touch"
	}
	all := []string{
		"knife goes in and out without hooking, and " + edge + " no sheet on its way",
		"shaken beside the ear: no rattle",
		"water poured in runs out of the tip",
	}
	if j.boss() {
		all = append(all, fmt.Sprintf("clip clear of the handle by %s, screws tight, their ends clear of the blade", mm(j.Spec.Clip.Clearance)))
	}
	return append(all, "held upside down and shaken over something soft, the knife stays in. "+Test)
}

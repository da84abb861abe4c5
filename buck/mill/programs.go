package mill

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/program"
	"formbuck/buck/program/ngc"
	"formbuck/buck/program/runs"
)

// Program is one of a sheath's programs: written and proved, or why it could not be.
type Program struct {
	Name  string // "drill", "trim-right-half", "posts-left" and so on
	Does  string // in words
	Kind  runs.Kind
	Place Place
	Hand  measures.Hand // whose posts are drilled; "": every hand takes the program
	Setup program.Setup
	*program.Program
	Err error // then Program is nil
}

// File is the name of its file in the job's folder.
func (p Program) File(s *layout.Sheath) string { return s.Knife.Spec.Name + "-" + p.Name + ".ngc" }

// Tool is its tool in words, in mm.
func (p Program) Tool() string { return tool(p.Setup.Tool, said{}) }

// Programs writes a sheath's programs in the order of the work, and proves each.
func Programs(s *layout.Sheath) []Program {
	all := drillPair(s)
	for _, p := range []Place{RightHalf, LeftHalf} {
		if posts := Posts(s, p); len(posts) > 0 {
			all = append(all, drillPosts(s, p, posts))
		}
		all = append(all, trimHalf(s, p))
	}
	return all
}

// Warnings are what a maker should know of programs, a line each, and which could not be written.
func Warnings(all []Program) []string {
	var lines []string
	add := func(line string) {
		if !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	for _, p := range all {
		if p.Err != nil {
			add(fmt.Sprintf("mill: no program to %s: %s", p.Does, reason(p.Err)))
			continue
		}
		for _, w := range p.Warnings {
			add("mill: " + w)
		}
	}
	return lines
}

// reason is why a program could not be written, on one line.
func reason(err error) string {
	var faults ngc.Faults
	text := err.Error()
	if errors.As(err, &faults) && len(faults) > 0 {
		text = faults[0].What
		if n := len(faults) - 1; n > 0 {
			text += fmt.Sprintf(", and %d more", n)
		}
	}
	for _, hint := range hints {
		if strings.Contains(text, hint[0]) {
			return text + "; " + hint[1]
		}
	}
	return text
}

// hints are keys that settle what a program could not be written for, by words of the reason.
var hints = [][2]string{
	{"nothing holds", "give mill.clamp and mill.washer, or say mill.hold = \"vacuum\" where vacuum or tape holds all of the rim"},
	{"clamp", "mill.clamp, mill.washer and layout.handling say where they are"},
	{"beside the stock", "layout.handling says how wide the waste is"},
	{"flutes are", "mill.flute_length says how long they are"},
	{"a finishing pass of", "mill.allowance says what is left for it"},
	{"a pass takes", "mill.depth says how deep passes are"},
	{"the machine does", "mill.max_feed and mill.max_speed say what it does"},
	{"rpm", "mill.speed and mill.drill_speed, or leave them out to have them chosen"},
	{"per tooth", "mill.feed, mill.speed and mill.flutes, or leave them out to have them chosen"},
	{"per revolution:", "mill.drill_feed and mill.drill_speed, or leave them out to have them chosen"},
	{"downwards", "mill.plunge says how fast"},
}

// drillPair drills the holes through both halves, a program for each drill: the eyelets' holes and those for other
// mounts that are alike, then the others.
func drillPair(s *layout.Sheath) []Program {
	spec := s.Knife.Spec
	var all []Program
	for i, width := range widths(s) {
		p := Program{Name: "drill", Does: "drill the pair", Kind: runs.Drill, Place: Pair, Setup: NewSetup(s, Pair)}
		p.Setup.Title = title(s) + ": drill the eyelets' holes through the pair"
		p.Setup.Tool = EyeletDrill(spec)
		if i > 0 {
			p.Name, p.Does = fmt.Sprintf("drill-%d", i+1), fmt.Sprintf("drill the pair, holes of %.4g mm", width)
			p.Setup.Title = title(s) + ": drill the holes for other mounts through the pair"
			p.Setup.Tool = program.Tool{Number: postDrill + i, Diameter: width, PointDeg: spec.Hole.PointAngleDeg}
		}
		p.Setup.Holes = slices.DeleteFunc(p.Setup.Holes, func(h program.Hole) bool { return math.Abs(h.Diameter-width) > alike })
		p.Program, p.Err = program.Drill(p.Setup, DrillOptions(spec))
		all = append(all, p)
	}
	return all
}

// title names the work: on a plate it is the same for all that it serves.
func title(s *layout.Sheath) string {
	if s.Plate != nil {
		return s.Plate.Knife
	}
	return s.Knife.Spec.Name
}

// alike is by how much holes may differ in diameter that one drill makes, in mm.
const alike = 1e-6

// widths are the diameters of the holes through both halves, the eyelets' first.
func widths(s *layout.Sheath) []float64 {
	all := []float64{s.Knife.Spec.Eyelet.Hole}
	for _, h := range s.Holes {
		if !slices.ContainsFunc(all, func(w float64) bool { return math.Abs(w-h.Diameter) <= alike }) {
			all = append(all, h.Diameter)
		}
	}
	return all
}

// drillPosts drills the holes of the posts of one half's boss.
func drillPosts(s *layout.Sheath, place Place, posts []program.Hole) Program {
	hand := s.Knife.Spec.Carry.Hand(place.face())
	p := Program{
		Name: "posts-" + string(hand), Does: fmt.Sprintf("drill the post holes, %s hand", hand),
		Kind: runs.Posts, Place: place, Hand: hand, Setup: NewSetup(s, place),
	}
	spec := s.Knife.Spec
	p.Setup.Title = fmt.Sprintf("%s: drill the holes of the posts, %s hand, in the %s. Before it is trimmed", title(s), hand, place)
	p.Setup.Holes = posts
	p.Setup.Hold += " Under " + blocks(posts, said{p.Setup.Inch})
	p.Setup.Tool = PostDrill(spec)
	p.Program, p.Err = program.Drill(p.Setup, DrillOptions(spec))
	return p
}

// blocks says what a boss's roof lies on while it is drilled.
func blocks(posts []program.Hole, n said) string {
	var high []string
	for _, h := range posts {
		if l := n.length(h.Bottom); !slices.Contains(high, l) {
			high = append(high, l)
		}
	}
	if len(high) == 1 {
		return "the boss a block of wood that fills it, " + high[0] + " high."
	}
	return "every boss a block of wood that fills it, " + strings.Join(high, " and ") + " high."
}

// trimHalf trims one half.
func trimHalf(s *layout.Sheath, place Place) Program {
	name := "trim-right-half"
	if place == LeftHalf {
		name = "trim-left-half"
	}
	p := Program{Name: name, Does: fmt.Sprintf("trim the %s", place), Kind: runs.Trim, Place: place, Setup: NewSetup(s, place)}
	p.Setup.Title = fmt.Sprintf("%s: trim the %s", title(s), place)
	p.Setup.Tool = Cutter(s.Knife.Spec)
	p.Program, p.Err = program.Trim(p.Setup, TrimOptions(s.Knife.Spec))
	return p
}

// Posts are the holes of the posts of a half's boss, from the roof's inner face to the highest of the dimple's
// outer side; none where the half has no boss.
func Posts(s *layout.Sheath, p Place) []program.Hole {
	f := Frame(s, p)
	var holes []program.Hole
	for _, post := range s.Posts {
		if p != Pair && post.Face == p.face() {
			holes = append(holes, program.Hole{
				At: f.To(post.At), Diameter: post.Diameter,
				Top: post.Roof + post.Dimple + s.Gauge, Bottom: post.Roof,
			})
		}
	}
	return holes
}

// EyeletDrill drills the eyelets' holes.
func EyeletDrill(s measures.Spec) program.Tool {
	return program.Tool{Number: eyeletDrill, Diameter: s.Eyelet.Hole, PointDeg: s.Hole.PointAngleDeg}
}

// PostDrill drills the holes of the posts.
func PostDrill(s measures.Spec) program.Tool {
	t := program.Tool{Number: postDrill, Diameter: s.Hole.Diameter, PointDeg: s.Hole.PointAngleDeg}
	if s.Hole.Diameter == s.Eyelet.Hole {
		t.Number = eyeletDrill
	}
	return t
}

// Cutter trims.
func Cutter(s measures.Spec) program.Tool {
	return program.Tool{Number: trimCutter, Diameter: s.Mill.Cutter, Flutes: s.Mill.Flutes, Length: s.Mill.Flute}
}

// DrillOptions are what a variant says of drilling.
func DrillOptions(s measures.Spec) program.DrillOptions {
	return program.DrillOptions{
		Material: material(s.Mill),
		Rates:    program.Rates{Speed: float64(s.Mill.DrillSpeed), Feed: s.Mill.DrillFeed},
		Peck:     s.Mill.Peck, Through: s.Mill.Through,
	}
}

// TrimOptions are what a variant says of trimming.
func TrimOptions(s measures.Spec) program.TrimOptions {
	m := s.Mill
	o := program.TrimOptions{
		Material:  material(m),
		Rates:     program.Rates{Speed: float64(m.Speed), Feed: m.Feed, Plunge: m.Plunge},
		Allowance: m.Allowance, Depth: m.Depth, Through: m.Bite,
	}
	if m.Allowance == 0 {
		o.Allowance = -1
	}
	return o
}

// Drilling returns speed and feed of a drill of the diameter in mm, as the programs of the variant have them. The error
// says why none can be had.
func Drilling(s measures.Spec, diameter float64) (program.Rates, error) {
	o := DrillOptions(s)
	tool := program.Tool{Number: 1, Diameter: diameter, PointDeg: s.Hole.PointAngleDeg}
	rates, _, err := tool.Drilling(o.Material, machine(s.Mill), o.Rates)
	return rates, err
}

func material(m measures.Mill) program.Material {
	all := program.Materials()
	if m.Material == measures.PVC {
		return all[1]
	}
	return all[0]
}

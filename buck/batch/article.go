package batch

import (
	"formbuck/buck/bench"
	"formbuck/buck/internal/nest"
	"formbuck/buck/measures"
)

// Key names a buck: a variant with the pieces of one hand, as they are for one gauge of sheet.
type Key struct {
	Variant string // name
	Hand    measures.Hand
	Gauge   float64 // mm
}

// Article is what one sheath takes: what a variant, hand and gauge come to. The caller works it out.
type Article struct {
	Key
	Blank   nest.Blank
	Grain   string // how the extrusion lies on the knife where the blank is not turned: measures.Along or measures.Across
	Eyelets int
	Bosses  int      // each takes a plate with its posts, a clip and a screw for each post
	Posts   int      // holes for posts, over all bosses
	Holes   int      // drilled through the pair: for eyelets and other mounts
	Trim    float64  // length of the trim line, mm
	Pieces  []string // print files of the pieces on the buck
	Tools   []string // print files of what is used with it and serves every copy: locators
	Printed []string // those of both that lie in the drawer already, one each

	Programs []Program // of the mill: the sheath is put on it once for each
	Warnings []Warning // of the making

	Steps    []bench.Step // of one sheath, as on the set-up sheet
	Hardware []bench.Item // of one sheath
	Checks   []string     // of the finished one
}

// Warning is what is to be known of an article before it is made.
type Warning struct {
	What  string
	Grave bool // it spoils the sheath: it binds, pieces collide, a foot stands off the blade
}

// The supplies that a sheath takes, beside sheet.
const (
	EyeletSupply = "eyelet"
	PlateSupply  = "plate"
	ScrewSupply  = "screw"
	ClipSupply   = "clip"
)

// Supplies are the names of what is counted, in the order in which it is listed.
func Supplies() []string { return []string{EyeletSupply, PlateSupply, ScrewSupply, ClipSupply} }

// takes is how many of each supply one sheath takes, in the order of Supplies.
func (a *Article) takes() [4]int { return [4]int{a.Eyelets, a.Bosses, a.Posts, a.Bosses} }

// Takes is what one sheath takes of each supply.
func (a *Article) Takes() []Count {
	var all []Count
	for i, n := range a.takes() {
		all = append(all, Count{Name: Supplies()[i], Need: n})
	}
	return all
}

// Load is one sheath on its way through the shop: a pair of blanks formed over a buck.
type Load struct {
	Order   int // its index in the list
	Number  int // of the order's sheaths, from 1
	Article *Article
	Colour  string
	Due     Day
	Done    Step // the last step that is done; empty: none, not even cut
}

// Did tells whether a step is done.
func (l *Load) Did(s Step) bool { return l.Done.done() >= s.done() }

// uncut tells that its blanks are still to be cut.
func (l *Load) uncut() bool { return l.Done == "" }

// heat and the other steps' minutes follow from the shop.
func (l *Load) heat(s *Shop) float64 { return s.Heat.PerMM * l.Article.Gauge }

// change is what has to be done on a press between two loads.
func (s *Shop) change(from, to *Load) float64 {
	if from == nil {
		return 0
	}
	minutes := 0.0
	if from.Article.Key != to.Article.Key {
		minutes += s.Press.Buck
	}
	if from.Article.Gauge != to.Article.Gauge {
		minutes += s.Press.Gauge
	}
	if from.Colour != to.Colour {
		minutes += s.Press.Colour
	}
	return minutes
}

// Step is one thing that is done to a load.
type Step string

// The steps, in their order.
const (
	Heating  Step = "heat"
	Pressing Step = "press"
	Drilling Step = "drill"
	Parting  Step = "split"
	Trimming Step = "trim"
	Finish   Step = "finish"
	Riveting Step = "rivet"
)

// Steps are all steps, in their order.
func Steps() []Step {
	return []Step{Heating, Pressing, Drilling, Parting, Trimming, Finish, Riveting}
}

// later are the steps after the press that are not done, and how long for the load.
func (s *Shop) later(l *Load) []stint {
	all := s.afterPress(l)
	return all[min(len(all), max(0, l.Done.done()-Pressing.done())):]
}

func (s *Shop) afterPress(l *Load) []stint {
	a := l.Article
	drill := s.Mill.SetUp*float64(puttings(s.Milled(a, Drilling))) + s.Mill.Hole*float64(a.Holes)
	trim := s.Mill.SetUp*float64(puttings(s.Milled(a, Trimming))) + s.Mill.PerMM*2*a.Trim
	finish := s.Bench.Finish
	if s.Mill.ByHand {
		finish += s.Bench.Post * float64(a.Posts)
	} else {
		trim += s.Mill.Hole * float64(a.Posts)
	}
	return []stint{{Drilling, drill}, {Parting, s.Bench.Split}, {Trimming, trim}, {Finish, finish}, {Riveting, s.Bench.Rivet * float64(a.Eyelets)}}
}

// stint is how many minutes a step takes.
type stint struct {
	step    Step
	minutes float64
}

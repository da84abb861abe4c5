package program

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"formbuck/buck/program/ngc"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// mark begins the comments of a program that Prove reads.
const mark = "SET-UP "

// The forms of these comments: a single letter stands for itself and a number, in the program's units;
// other words for themselves.
const (
	formDrill  = "DRILL T D POINT A"
	formCutter = "CUTTER T D FLUTES N LENGTH L"
	formRates  = "RATES SPEED S FEED F PLUNGE F" // least speed, greatest feeds along and down
	formMost   = "MACHINE SPEED S FEED F"        // the most that it does
	formPass   = "PASS DEPTH Z SIDE D"           // the most that a cutter takes at once
	formVacuum = "HOLD VACUUM"                   // vacuum or tape under all of the rim
	formSafe   = "SAFE Z"
	formRapid  = "RAPID F"
	formStock  = "STOCK FROM X Y TO X Y SHEET Z TOP Z BOARD Z"
	formHole   = "HOLE X Y D FROM Z TO Z"
	formPin    = "PIN X Y D TOP Z"
	formWasher = "PIN X Y D TOP Z WASHER D"
	formRaised = "RAISED FROM X Y TO X Y TOP Z" // of the work outside the line
	formClamp  = "CLAMP FROM X Y TO X Y TOP Z"
	formStart  = "LINE FROM X Y"
	formSteel  = "STEEL FROM X Y ROOM D" // outline of the knife in the work, and what the tool's rim keeps from it
	formEdge   = "STEEL TO X Y BULGE B"
	formLine   = "LINE TO X Y BULGE B" // bulge: tan of a quarter of the arc's angle, over 0 counter-clockwise
)

// plain are letters whose numbers are no lengths.
const plain = "TABNS"

// fill is a form with its numbers.
func (n numbers) fill(form string, values ...float64) string {
	var b strings.Builder
	b.WriteString(strings.TrimSuffix(mark, " "))
	i := 0
	for word := range strings.FieldsSeq(form) {
		b.WriteByte(' ')
		b.WriteString(word)
		if len(word) > 1 {
			continue
		}
		if strings.Contains(plain, word) {
			b.WriteString(trimmed(values[i], 8))
		} else {
			b.WriteString(n.length(values[i]))
		}
		i++
	}
	return b.String()
}

// match takes a comment's text apart by a form; unit is what lengths are in, in mm.
func match(form, text string, unit float64) (values []float64, ok bool) {
	want, have := strings.Fields(form), strings.Fields(text)
	if len(want) != len(have) {
		return nil, false
	}
	for i, word := range want {
		if len(word) > 1 {
			if word != have[i] {
				return nil, false
			}
			continue
		}
		number, found := strings.CutPrefix(have[i], word)
		v, err := strconv.ParseFloat(number, 64)
		if !found || err != nil || math.Abs(v) > 1e7 || math.IsNaN(v) {
			return nil, false
		}
		if !strings.Contains(plain, word) {
			v *= unit
		}
		values = append(values, v)
	}
	return values, true
}

// comments are the set-up as Prove reads it, a comment each.
func (s *Setup) comments(n numbers) []string {
	t, m := s.Tool, s.Machine.filled()
	out := []string{n.fill(formDrill, float64(t.Number), t.Diameter, t.PointDeg)}
	if !t.Drill() {
		out = []string{
			n.fill(formCutter, float64(t.Number), t.Diameter, t.flutes(), t.length()),
			n.fill(formPass, s.Pass.Depth, s.Pass.Side),
		}
	}
	out = append(out, n.fill(formRates, s.Rates.Speed, s.Rates.Feed, s.Rates.Plunge), n.fill(formMost, m.Speed, m.Feed))
	if s.Vacuum {
		out = append(out, n.fill(formVacuum))
	}
	b := s.Stock.Box
	out = append(out, n.fill(formSafe, s.Safe), n.fill(formRapid, s.rapid()),
		n.fill(formStock, b.Min.X, b.Min.Y, b.Max.X, b.Max.Y, s.Stock.Sheet, s.Stock.Top, -s.Stock.Board))
	for _, h := range s.Holes {
		out = append(out, n.fill(formHole, h.At.X, h.At.Y, h.Diameter, h.Top, h.Bottom))
	}
	for _, p := range s.Pins {
		if p.Washer > 0 {
			out = append(out, n.fill(formWasher, p.At.X, p.At.Y, p.Diameter, p.Top, p.Washer))
		} else {
			out = append(out, n.fill(formPin, p.At.X, p.At.Y, p.Diameter, p.Top))
		}
	}
	for _, c := range s.Clamps {
		out = append(out, n.fill(formClamp, c.Box.Min.X, c.Box.Min.Y, c.Box.Max.X, c.Box.Max.Y, c.Top))
	}
	for _, r := range s.Raised {
		out = append(out, n.fill(formRaised, r.Box.Min.X, r.Box.Min.Y, r.Box.Max.X, r.Box.Max.Y, r.Top))
	}
	if len(s.Line) > 0 {
		out = append(out, n.fill(formStart, s.Line[0].A.X, s.Line[0].A.Y))
	}
	for _, l := range s.Line {
		out = append(out, n.fill(formLine, l.B.X, l.B.Y, l.Bulge))
	}
	if len(s.Steel) > 0 {
		out = append(out, n.fill(formSteel, s.Steel[0].A.X, s.Steel[0].A.Y, s.Room))
	}
	for _, l := range s.Steel {
		out = append(out, n.fill(formEdge, l.B.X, l.B.Y, l.Bulge))
	}
	return out
}

// stated is a set-up as a program states it, with the lines where it does.
type stated struct {
	Setup
	unit     float64
	last     r2.Vec // of the sheath's line
	lastEdge r2.Vec // of the knife's outline
	first    int    // line of the program where the sheath's line begins, 0: none
	seen     map[string]bool
	holeLine []int
	faults   ngc.Faults
}

// mostStated is how many comments a set-up may have: that of a trimming program has a hundred.
const mostStated = 2000

// readSetup reads the set-up from a program's head.
func readSetup(p *ngc.Program) *stated {
	s := &stated{unit: 1, seen: map[string]bool{}}
	if p.Inch {
		s.unit = 25.4
	}
	s.Inch = p.Inch
	head := math.MaxInt
	if len(p.Motions) > 0 {
		head = p.Motions[0].Line
	}
	refuse := func(c ngc.Comment, what string) {
		s.faults = append(s.faults, &ngc.Fault{File: p.File, Line: c.Line, Column: c.Column, What: what})
	}
	stated := 0
	for _, c := range p.Comments {
		text, ok := strings.CutPrefix(strings.TrimSpace(c.Text), mark)
		if !ok {
			continue
		}
		if stated++; stated > mostStated {
			refuse(c, fmt.Sprintf("more than %d set-up comments", mostStated))
			return s
		}
		if c.Line > head {
			refuse(c, "a set-up comment after the first motion")
			continue
		}
		if what := s.take(text, c.Line); what != "" {
			refuse(c, what)
		}
	}
	s.complete(p.File)
	return s
}

// complete finds what is missing, and what cannot be.
func (s *stated) complete(file string) {
	missing := func(there bool, form string) {
		if !there {
			s.faults = append(s.faults, &ngc.Fault{File: file, What: "nothing can be proved: the set-up comment " + form + " is missing"})
		}
	}
	missing(s.seen[formDrill] || s.seen[formCutter], formDrill+" or "+formCutter)
	missing(s.seen[formPass] || !s.seen[formCutter], formPass)
	missing(!s.seen[formSteel] || len(s.Steel) > 0, formEdge)
	for _, form := range []string{formRates, formMost, formSafe, formStock} {
		missing(s.seen[form], form)
	}
	if len(s.faults) > 0 {
		return
	}
	for _, check := range []func() error{s.Check, s.checkRates} {
		if err := check(); err != nil {
			s.faults = append(s.faults, &ngc.Fault{File: file, Line: s.first, What: err.Error()})
			return
		}
	}
}

// once are the forms that a program states once at most.
var once = []string{formDrill, formCutter, formRates, formMost, formPass, formVacuum, formSafe, formRapid, formStock, formStart, formSteel}

// forms are tried in this order.
var forms = []string{
	formDrill, formCutter, formRates, formMost, formPass, formVacuum, formSafe, formRapid, formStock, formHole, formPin, formWasher, formClamp, formRaised, formStart, formLine, formSteel, formEdge,
}

// take takes one comment, and says what is wrong with it.
func (s *stated) take(text string, line int) string {
	for _, form := range forms {
		if v, ok := match(form, text, s.unit); ok {
			return s.put(form, v, line)
		}
	}
	return "set-up comment that cannot be read; the forms are " + strings.Join(forms, ", ")
}

// put puts the numbers of one comment into their place.
func (s *stated) put(form string, v []float64, line int) string {
	if slices.Contains(once, form) && (s.seen[form] || form == formCutter && s.seen[formDrill] || form == formDrill && s.seen[formCutter]) {
		return "stated twice: " + form
	}
	s.seen[form] = true
	switch form {
	case formDrill:
		if v[2] <= 0 {
			return "a drill without a point"
		}
		s.Tool = Tool{Number: int(v[0]), Diameter: v[1], PointDeg: v[2]}
	case formCutter:
		if v[2] < 1 || v[2] != math.Trunc(v[2]) || v[3] <= 0 {
			return "a cutter without flutes"
		}
		s.Tool = Tool{Number: int(v[0]), Diameter: v[1], Flutes: int(v[2]), Length: v[3]}
	case formRates:
		s.Rates = Rates{Speed: v[0], Feed: v[1], Plunge: v[2]}
	case formMost:
		if v[0] <= 0 || v[1] <= 0 {
			return "a machine that does nothing"
		}
		s.Machine = Machine{Speed: v[0], Feed: v[1]}
	case formPass:
		s.Pass = Pass{Depth: v[0], Side: v[1]}
	case formVacuum:
		s.Vacuum = true
	case formSafe:
		s.Safe = v[0]
	case formRapid:
		s.Rapid = v[0]
	case formStock:
		s.Stock = Stock{Box: box(v), Sheet: v[4], Top: v[5], Board: -v[6]}
	case formHole:
		s.Holes = append(s.Holes, Hole{At: r2.Vec{X: v[0], Y: v[1]}, Diameter: v[2], Top: v[3], Bottom: v[4]})
		s.holeLine = append(s.holeLine, line)
	case formPin, formWasher:
		s.Pins = append(s.Pins, Pin{At: r2.Vec{X: v[0], Y: v[1]}, Diameter: v[2], Top: v[3]})
		if form == formWasher {
			s.Pins[len(s.Pins)-1].Washer = v[4]
		}
	case formRaised:
		s.Raised = append(s.Raised, Raised{Box: box(v), Top: v[4]})
	case formClamp:
		s.Clamps = append(s.Clamps, Clamp{Box: box(v), Top: v[4]})
	case formStart:
		s.first, s.last = line, r2.Vec{X: v[0], Y: v[1]}
	case formLine:
		if s.first == 0 {
			return "the sheath's line goes on before it begins"
		}
		to := r2.Vec{X: v[0], Y: v[1]}
		s.Line = append(s.Line, straightened(profile.Segment{A: s.last, B: to, Bulge: v[2]}))
		s.last = to
	case formSteel, formEdge:
		return s.putSteel(form, v)
	}
	return ""
}

// putSteel puts the numbers of a comment on the knife in the work into their place.
func (s *stated) putSteel(form string, v []float64) string {
	switch {
	case form == formSteel:
		s.lastEdge, s.Room = r2.Vec{X: v[0], Y: v[1]}, v[2]
	case !s.seen[formSteel]:
		return "the knife's outline goes on before it begins"
	default:
		to := r2.Vec{X: v[0], Y: v[1]}
		s.Steel = append(s.Steel, straightened(profile.Segment{A: s.lastEdge, B: to, Bulge: v[2]}))
		s.lastEdge = to
	}
	return ""
}

func box(v []float64) r2.Box {
	return r2.Box{Min: r2.Vec{X: v[0], Y: v[1]}, Max: r2.Vec{X: v[2], Y: v[3]}}
}

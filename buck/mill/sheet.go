package mill

import (
	"fmt"
	"strings"

	"formbuck/buck/bench"
	"formbuck/buck/layout"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/program"
	"formbuck/buck/program/runs"
)

// Sheet is the set-up sheet for the mill: for each place how the work lies, zero, stock, pins, hold-down and the
// programs with their tools, the steps of the set-up sheet that are done there, and the usual cautions. Lengths are in the programs' units.
func Sheet(s *layout.Sheath, programs []Program, p drawing.Paper) []*drawing.Drawing {
	name := s.Knife.Spec.Name
	steps := bench.OfSheath(s).Steps()
	stages := map[Place]bench.Stage{Pair: bench.Drill, RightHalf: bench.Trim, LeftHalf: bench.Trim}
	w := drawing.NewList(name+": on the mill", p)
	for _, place := range []Place{Pair, RightHalf, LeftHalf} {
		w.Heading(map[Place]string{
			Pair: "The pair, to be drilled", RightHalf: "The right half, to be drilled and trimmed", LeftHalf: "The left half, to be drilled and trimmed",
		}[place])
		placed(w, NewSetup(s, place))
		for _, step := range bench.At(steps, stages[place]) {
			w.Row(fmt.Sprintf("step %d", step.Number), step.Name+": "+step.Do)
		}
		for _, q := range programs {
			if q.Place == place {
				run(w, s, q)
			}
		}
	}
	Care(w)
	w.Row("after a change", "prove the program again: formbuck prove FILE.ngc")
	return w.Pages()
}

// Care is the usual cautions at a mill, and where the others are.
func Care(w *drawing.List) {
	w.Heading("With care: " + bench.First)
	for _, c := range program.Cautions() {
		what, text, _ := strings.Cut(c, ": ")
		if what == "CAUTION" {
			w.Tick(text)
		} else {
			w.Row(strings.ToLower(what), text)
		}
	}
	w.Row("at the bench", bench.Pointer)
}

// placed says how the work lies and is held.
func placed(w *drawing.List, set program.Setup) {
	n := said{set.Inch}
	b := set.Stock.Box
	w.Row("lies", set.Up)
	w.Row("zero", set.Zero+"; Z 0 is the top of the board under the sheet")
	w.Row("stock", fmt.Sprintf("X %s to %s, Y %s to %s; flat rim %s thick, highest point %s over the board; board at least %s thick",
		n.length(b.Min.X), n.length(b.Max.X), n.length(b.Min.Y), n.length(b.Max.Y), n.length(set.Stock.Sheet), n.length(set.Stock.Top), n.length(set.Stock.Board)))
	for i, pin := range set.Pins {
		w.Row(fmt.Sprintf("pin %d", i+1), fmt.Sprintf("diameter %s at X %s Y %s, %s high", n.length(pin.Diameter), n.length(pin.At.X), n.length(pin.At.Y), n.length(pin.Top)))
	}
	for i, c := range set.Clamps {
		w.Row(fmt.Sprintf("clamp %d", i+1), fmt.Sprintf("X %s to %s, Y %s to %s, at most %s high",
			n.length(c.Box.Min.X), n.length(c.Box.Max.X), n.length(c.Box.Min.Y), n.length(c.Box.Max.Y), n.length(c.Top)))
	}
	w.Row("hold-down", set.Hold)
}

// run says what a program does, with what, and what to mind.
func run(w *drawing.List, s *layout.Sheath, p Program) {
	if p.Err != nil {
		w.Row("no program", "to "+p.Does+": "+reason(p.Err))
		return
	}
	n := said{p.Setup.Inch}
	w.Tick(fmt.Sprintf("%s: %s; %s; %g rpm, feed %s/min; %.1f min; rapid moves at Z %s",
		p.File(s), p.Does, tool(p.Setup.Tool, n), p.Rates.Speed, n.length(p.Rates.Feed), (p.Proof.Cutting+p.Proof.Over)/60, n.length(p.Setup.Safe)))
	if more, found := strings.CutPrefix(p.Setup.Hold, NewSetup(s, p.Place).Hold); found && more != "" {
		w.Row("for it", strings.TrimSpace(more))
	}
	if p.Kind == runs.Trim {
		w.Row("flutes", fmt.Sprintf("at least %s long, with nothing wider above them: the waste is formed up to %s high where the cutter crosses it",
			n.length(p.Setup.Tall()+s.Knife.Spec.Mill.Bite), n.length(p.Setup.Tall())))
	}
	if h := s.Knife.Spec.Hole; p.Kind == runs.Posts && h.Sink() > 0 {
		w.Row("by hand", fmt.Sprintf("no program countersinks: each hole, in the outer face, %s wide at %g deg, %s deep",
			n.length(h.SinkDiameter), h.SinkAngleDeg, n.length(h.Sink())))
	}
	for _, warning := range p.Warnings {
		w.Row("warning", warning)
	}
}

// tool is a tool in words.
func tool(t program.Tool, n said) string {
	if t.Drill() {
		return fmt.Sprintf("T%d, drill of %s, point %g deg", t.Number, n.length(t.Diameter), t.PointDeg)
	}
	flutes := fmt.Sprintf("%d flutes", t.Flutes)
	if t.Flutes == 1 {
		flutes = "1 flute"
	}
	return fmt.Sprintf("T%d, cutter of %s, %s of %s", t.Number, n.length(t.Diameter), flutes, n.length(t.Length))
}

package picture

import (
	"fmt"

	"formbuck/buck/batch"
	"formbuck/buck/mill"
	"formbuck/buck/paper/drawing"
)

// Mill is the paper for the mill: each run with its tool and its works in their order, and the usual cautions.
func Mill(p *batch.Plan, title string, paper drawing.Paper) []*drawing.Drawing {
	l := drawing.NewList(title, paper)
	l.Row("a run", "is one program with a stop after each work: change the work, check pins, clamps and zero, then go on")
	l.Row("on a plate", "a work is put on and taken off by two screws, and both halves at once: at the stop between them there is nothing to change")
	l.Row("how a work lies", "zero, pins, clamps and what it is held by: NAME-mill.pdf in the variant's folder below bucks, and the head of each work")
	l.Row("prove it", "formbuck prove FILE.ngc, again after every change")
	warned(l, "Mend these before anything is made", p.Warnings(true))
	for _, r := range p.Runs {
		l.Heading(fmt.Sprintf("%s.ngc, %s: %s", r.Name, dayName(p, r.Day), r.Tool))
		for i, w := range r.Works {
			text := fmt.Sprintf("%d: %s", i+1, p.NameOf(w))
			if w.Line > 0 {
				text += fmt.Sprintf("; from line %d", w.Line)
			}
			l.Tick(text)
		}
	}
	if missing := p.Unwritten(); len(missing) > 0 {
		l.Heading("Not in the runs")
		for _, line := range missing {
			l.Tick(line + " could be written")
		}
	}
	mill.Care(l)
	return l.Pages()
}

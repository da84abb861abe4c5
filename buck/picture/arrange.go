package picture

import "image"

// onePane gives all the room to the view asked for.
func onePane(s *sheet) ([]*pane, error) {
	p := newPane(s, s.o.View, s.room, "")
	if err := p.zoom(); err != nil {
		return nil, err
	}
	p.centre()
	s.main = p
	return []*pane{p}, nil
}

// threePanes shares the room between plan, side and three-quarter, beside each other or all under
// each other, whichever lets the parts be larger.
func threePanes(s *sheet) ([]*pane, error) {
	edge, spine := s.o.sides()
	views, names := [3]View{Plan(), Side(), s.o.View}, [3]string{"plan, on the right face", "side, on the " + edge, "three-quarter"}
	if s.o.View.From.Z < 0 {
		views[0], views[1] = PlanLeft(), SideLeft()
		names[0], names[1] = "plan, on the left face", "side, on the "+spine
	}
	var best []*pane
	for _, across := range [2]bool{true, false} {
		trial := arrange(s, views, names, across)
		if best == nil || trial[0].scale > best[0].scale {
			best = trial
		}
	}
	s.main = best[0]
	for _, p := range best {
		if p.enough() {
			return best, nil
		}
	}
	return nil, &Error{Fault: NoRoom, Detail: fmtSize(s.room.Dx(), s.room.Dy()) + " pixels are left"}
}

// arrange makes the panes of one arrangement, with the largest scale that suits all three.
func arrange(s *sheet, views [3]View, names [3]string, across bool) []*pane {
	var t trio
	for i := range views {
		t[i] = newPane(s, views[i], s.room, names[i])
	}
	if !s.o.NoSizes { // each size once: length and width on the plan, height beside the side view
		t[1].dims, t[2].dims = only(2, t[1].dims), nil
	}
	w, h := float64(s.room.Dx()), float64(s.room.Dy())
	t.zoom(largest(t[0].upper(w, h), func(k float64) bool {
		t.zoom(k)
		nw, nh := t.needs(across)
		return nw <= w && nh <= h
	}))
	t.share(s.room, across)
	return t[:]
}

// trio is plan, side and three-quarter.
type trio [3]*pane

func (t *trio) zoom(scale float64) {
	for _, p := range t {
		p.scale = scale
	}
}

// above is the room for the label over a pane, in pixels.
func (t *trio) above() float64 { return 40 * t[0].sheet.u }

// pair is the room that plan and side take, one over the other with their x axes aligned.
func (t *trio) pair() (w, h float64) {
	a, b := t[0].extent(), t[1].extent()
	return max(a.hi.X, b.hi.X) - min(a.lo.X, b.lo.X), a.size().Y + b.size().Y + 2*t.above()
}

// needs is the room that all three take, the last one beside the others or under them.
func (t *trio) needs(across bool) (w, h float64) {
	w, h = t.pair()
	c := t[2].extent().size()
	if across {
		return w + t.above() + c.X, max(h, c.Y+t.above())
	}
	return max(w, c.X), h + c.Y + t.above()
}

// share places the panes in the room and spreads what is left between them.
func (t *trio) share(r image.Rectangle, across bool) {
	a, b, c := t[0].extent(), t[1].extent(), t[2].extent()
	w, h := t.needs(across)
	pw, ph := t.pair()
	gaps := 4.0
	left := float64(r.Min.X) + (float64(r.Dx())-pw)/2
	if across {
		gaps, h = 3, ph
		left = float64(r.Min.X) + (float64(r.Dx())-w)/3
	}
	spare := (float64(r.Dy()) - h) / gaps
	ox := left - min(a.lo.X, b.lo.X)
	y := float64(r.Min.Y) + spare + t.above()
	t[0].place(ox, y-a.lo.Y)
	y += a.size().Y + spare + t.above()
	t[1].place(ox, y-b.lo.Y)
	y += b.size().Y + spare + t.above()
	x := float64(r.Min.X) + (float64(r.Dx())-c.size().X)/2
	if across {
		x = float64(r.Max.X) - (float64(r.Dx())-w)/3 - c.size().X
		y = float64(r.Min.Y) + t.above() + (float64(r.Dy())-t.above()-c.size().Y)/2
	}
	t[2].place(x-c.lo.X, y-c.lo.Y)
}

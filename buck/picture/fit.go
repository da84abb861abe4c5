package picture

import (
	"image"

	"gonum.org/v1/gonum/spatial/r3"
)

// leastSeen is how many pixels the parts must get at least, width and height together.
const leastSeen = 48

// newPane is a view of the sheet's scene that may use a rectangle; it is not yet placed.
func newPane(s *sheet, v View, r image.Rectangle, label string) *pane {
	p := &pane{sheet: s, cam: v.camera(), rect: r, label: label, seen: nothing(), cast: nothing()}
	k, lies := p.slant()
	for _, b := range s.scene.bodies {
		for _, q := range b.pts {
			p.seen = p.seen.with(p.cam.see(q))
			if lies && !b.Faint {
				p.cast = p.cast.with(p.cam.see(k.onGround(q)))
			}
		}
	}
	for _, m := range s.o.Marks {
		p.seen = p.seen.with(p.cam.see(m.At))
	}
	if !s.o.NoSizes {
		p.dims = overall(p.cam, s.scene.box)
	}
	return p
}

// extent is all that the pane draws at its present scale and place, in pixels.
func (p *pane) extent() box {
	r := nothing()
	blur := 2 * shadowBlur * p.sheet.u
	for i := range 4 {
		q := p.seen.corner(i)
		r = r.with(r3.Vec{X: p.ox + p.scale*q.X, Y: p.oy - p.scale*q.Y})
	}
	if p.cast.lo.X <= p.cast.hi.X {
		lo, hi := p.cast.lo, p.cast.hi
		r = r.with(r3.Vec{X: p.ox + p.scale*lo.X - blur, Y: p.oy - p.scale*lo.Y + blur})
		r = r.with(r3.Vec{X: p.ox + p.scale*hi.X + blur, Y: p.oy - p.scale*hi.Y})
	}
	for _, d := range p.dims {
		r = d.lay(p).bounds(p.sheet, r)
	}
	return r
}

// upper is a scale that is more than enough for a room of w x h pixels.
func (p *pane) upper(w, h float64) float64 {
	size := p.seen.size()
	return (w + h) / max(size.X+size.Y, 0.01*r3.Norm(p.sheet.scene.box.size()))
}

// largest is the largest scale from 0 to hi that fits, by halving; 0 where none does.
func largest(hi float64, fits func(scale float64) bool) float64 {
	lo := 0.0
	for range 40 {
		if k := (lo + hi) / 2; fits(k) {
			lo = k
		} else {
			hi = k
		}
	}
	return lo
}

// zoom gives the pane the largest scale at which its rectangle holds all that it draws, without
// dimensions where there is no room for them.
func (p *pane) zoom() error {
	w, h := float64(p.rect.Dx()), float64(p.rect.Dy())
	for {
		p.scale = largest(p.upper(w, h), func(k float64) bool {
			p.scale = k
			e := p.extent().size()
			return e.X <= w && e.Y <= h
		})
		if p.enough() {
			return nil
		}
		if p.dims == nil {
			return &Error{Fault: NoRoom, Detail: fmtSize(p.rect.Dx(), p.rect.Dy()) + " pixels are left"}
		}
		p.dims = nil
	}
}

// enough tells whether the parts are large enough to be recognised.
func (p *pane) enough() bool {
	return p.scale >= p.upper(leastSeen, 0)
}

// centre puts what the pane draws in the middle of its rectangle.
func (p *pane) centre() {
	e := p.extent()
	p.place(p.ox+float64(p.rect.Min.X+p.rect.Max.X)/2-(e.lo.X+e.hi.X)/2,
		p.oy+float64(p.rect.Min.Y+p.rect.Max.Y)/2-(e.lo.Y+e.hi.Y)/2)
}

// place says where the model's origin lands, in pixels.
func (p *pane) place(x, y float64) { p.ox, p.oy = x, y }

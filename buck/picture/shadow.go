package picture

import (
	"image"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The shadow is cast on the ground under the lowest point of the parts, at a quarter of the
// picture's resolution, and blurred by three box filters, which is nearly a Gaussian.
const (
	shadowCell  = 4    // pixels
	shadowDark  = 0.30 // at its darkest
	shadowBlur  = 14   // half width of each filter, in units of the sheet
	leastSlope  = 0.12 // of the eye over the ground: below it no shadow is drawn
	shadowSlide = 0.45 // how far the light slants: 1 would follow the key light
)

// slant is how points fall along the light onto the ground.
type slant struct {
	up, fall r3.Vec
	low      float64 // height of the ground
}

// slant is the light's, and false where the eye looks along the ground or from below.
func (p *pane) slant() (slant, bool) {
	c := p.cam
	if r3.Dot(c.ground, c.toward) < leastSlope {
		return slant{}, false
	}
	k := slant{up: c.ground, low: math.Inf(1)}
	for i := range 8 {
		k.low = min(k.low, r3.Dot(p.sheet.scene.box.corner(i), k.up))
	}
	key := r3.Add(r3.Add(r3.Scale(float64(keyDir[0]), c.right), r3.Scale(float64(keyDir[1]), c.up)), r3.Scale(float64(keyDir[2]), c.toward))
	slide := r3.Scale(-shadowSlide/r3.Dot(key, k.up), r3.Sub(key, r3.Scale(r3.Dot(key, k.up), k.up)))
	k.fall = r3.Sub(slide, k.up)
	return k, true
}

// onGround is where the shadow of a point falls.
func (k slant) onGround(v r3.Vec) r3.Vec {
	return r3.Add(v, r3.Scale(r3.Dot(v, k.up)-k.low, k.fall))
}

// castShadow darkens the ground where the parts keep the light off it. Faint parts cast none.
func (p *pane) castShadow() {
	k, ok := p.slant()
	if !ok {
		return
	}
	s := p.sheet
	area := s.img.Bounds()
	mask := newBuffer(area.Dx()/shadowCell+1, area.Dy()/shadowCell+1)
	for _, b := range s.scene.bodies {
		if b.Faint {
			continue
		}
		spots := make([]spot, len(b.pts))
		for i, v := range b.pts {
			q := p.at(k.onGround(v))
			spots[i] = spot{x: q.x / shadowCell, y: q.y / shadowCell}
		}
		for _, t := range b.tris {
			mask.fill(spots[t[0]], spots[t[1]], spots[t[2]], 0, 0)
		}
	}
	dark := make([]float32, mask.w*mask.h)
	for i, id := range mask.id {
		if id >= 0 {
			dark[i] = shadowDark
		}
	}
	r := max(int(shadowBlur*s.u)/shadowCell, 1)
	for range 3 {
		dark = blurred(dark, mask.w, mask.h, r)
	}
	shade(s.img, area, dark, mask.w)
}

// blurred averages rows over 2r+1 cells and turns the field over its diagonal twice, so that
// columns are averaged too.
func blurred(a []float32, w, h, r int) []float32 {
	return blurRows(blurRows(a, w, h, r), h, w, r)
}

// blurRows averages along the rows of a field of w x h and returns it transposed (h x w).
func blurRows(a []float32, w, h, r int) []float32 {
	out := make([]float32, len(a))
	for y := range h {
		row := a[y*w : (y+1)*w]
		sum := float32(0)
		for x := -r; x < w; x++ {
			if x+r < w {
				sum += row[x+r]
			}
			if x-r-1 >= 0 {
				sum -= row[x-r-1]
			}
			if x >= 0 {
				out[x*h+y] = sum / float32(2*r+1)
			}
		}
	}
	return out
}

// shade darkens an area by a field of coarse cells, interpolated between their centres.
func shade(img *image.RGBA, area image.Rectangle, dark []float32, w int) {
	h := len(dark) / w
	at := func(x, y int) float32 { return dark[min(max(y, 0), h-1)*w+min(max(x, 0), w-1)] }
	for y := range area.Dy() {
		row := img.Pix[img.PixOffset(area.Min.X, area.Min.Y+y):]
		fy := (float32(y)+0.5)/shadowCell + 0.5
		j := int(fy)
		fy -= float32(j)
		for i := range w {
			p, q := at(i-1, j-1), at(i, j-1)
			p, q = p+(at(i-1, j)-p)*fy, q+(at(i, j)-q)*fy
			if p < 0.002 && q < 0.002 {
				continue
			}
			for x := max(shadowCell*i-shadowCell/2, 0); x < min(shadowCell*i+shadowCell/2, area.Dx()); x++ {
				k := 1 - (p + (q-p)*((float32(x)+0.5)/shadowCell+0.5-float32(i)))
				for c := range 3 {
					row[4*x+c] = uint8(float32(row[4*x+c])*k + 0.5)
				}
			}
		}
	}
}

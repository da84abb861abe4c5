package picture

import (
	"image/color"
	"math"
)

// rgb is a colour in linear light, 0 to 1.
type rgb struct{ r, g, b float32 }

// tones turns sRGB bytes into linear light and back (IEC 61966-2-1:1999).
type tones struct {
	linear [256]float32
	bytes  [4096]uint8
}

func newTones() *tones {
	t := &tones{}
	for i := range t.linear {
		v := float64(i) / 255
		if v <= 0.04045 {
			t.linear[i] = float32(v / 12.92)
		} else {
			t.linear[i] = float32(math.Pow((v+0.055)/1.055, 2.4))
		}
	}
	at := 0
	for i := range t.bytes {
		v := (float32(i) + 0.5) / float32(len(t.bytes))
		for at < 255 && v > (t.linear[at]+t.linear[at+1])/2 {
			at++
		}
		t.bytes[i] = uint8(at)
	}
	return t
}

func (t *tones) decode(c color.NRGBA) rgb {
	return rgb{t.linear[c.R], t.linear[c.G], t.linear[c.B]}
}

func (t *tones) encode(v float32) uint8 {
	return t.bytes[min(max(int(v*float32(len(t.bytes))), 0), len(t.bytes)-1)]
}

// The light hangs at the eye, so that every view is lit alike: a key from above and left, a weak
// fill from the right, and a sky that is brighter above. Chosen by looking: the top, the front and
// the end of a box differ clearly, none is black, and a few degrees of draft still show.
var (
	keyDir  = [3]float32{-0.40, 0.60, 0.693}
	fillDir = [3]float32{0.83, -0.05, 0.555}
	shine   = [3]float32{-0.2174, 0.3261, 0.9200} // half way between the key and the eye
)

const (
	skyLight  = 0.36
	skyTilt   = 0.10
	keyLight  = 0.66
	keyWrap   = 0.45
	fillLight = 0.06
	gloss     = 0.07
	glassOver = 0.30 // how much of a faint part covers what lies behind it
)

// lit is the colour of a surface c with the normal (x, y, z) in view axes.
func lit(c rgb, x, y, z float32) rgb {
	l := 1 / float32(math.Sqrt(float64(x*x+y*y+z*z)+1e-20))
	x, y, z = x*l, y*l, z*l
	k := skyLight + skyTilt*y
	// the key reaches a little round the corner and fades out without a visible end
	if d := (x*keyDir[0] + y*keyDir[1] + z*keyDir[2] + keyWrap) / (1 + keyWrap); d > 0 {
		k += keyLight * d * d
	}
	if d := x*fillDir[0] + y*fillDir[1] + z*fillDir[2]; d > 0 {
		k += fillLight * d * d
	}
	h := float32(0)
	if d := x*shine[0] + y*shine[1] + z*shine[2]; d > 0.7 {
		d *= d
		d *= d
		d *= d
		d *= d
		h = gloss * d * d
	}
	return rgb{c.r*k + h, c.g*k + h, c.b*k + h}
}

func (c rgb) times(k float32) rgb { return rgb{c.r * k, c.g * k, c.b * k} }
func (c rgb) plus(d rgb) rgb      { return rgb{c.r + d.r, c.g + d.g, c.b + d.b} }

// light colours every pixel of the area from the buffers.
func (d *drawing) light() {
	l := lamp{d: d, inside: d.s.tones.decode(rose)}
	for _, b := range d.s.scene.bodies {
		l.base = append(l.base, d.s.tones.decode(b.Colour))
	}
	for y := range d.area.Dy() {
		row := d.s.img.Pix[d.s.img.PixOffset(d.area.Min.X, d.area.Min.Y+y):]
		for x := range d.area.Dx() {
			l.pixel(x, y, row[4*x:4*x+3])
		}
	}
}

// lamp lights the pixels of a drawing.
type lamp struct {
	d      *drawing
	base   []rgb // by body
	inside rgb
}

// pixel colours one pixel, given as its bytes.
func (l *lamp) pixel(x, y int, pix []uint8) {
	c, part, any := l.gather(l.d.solid, x, y)
	var g rgb
	cover := float32(0)
	if l.d.glass != nil {
		var seen bool
		if g, cover, seen = l.gather(l.d.glass, x, y); seen {
			any = true
		}
	}
	if !any {
		return
	}
	t := l.d.s.tones
	if part < 1 {
		back := rgb{t.linear[pix[0]], t.linear[pix[1]], t.linear[pix[2]]}
		c = c.plus(back.times(1 - part))
	}
	if cover > 0 {
		c = c.times(1 - glassOver*cover).plus(g.times(glassOver))
	}
	pix[0], pix[1], pix[2] = t.encode(c.r), t.encode(c.g), t.encode(c.b)
}

// gather sums the light of the pixel's samples, weighted by the part of the pixel they cover.
// Samples of one patch are lit once. Glass counts only where it is before what is solid.
func (l *lamp) gather(b *buffer, x, y int) (sum rgb, part float32, any bool) {
	at := grain * (y*b.w + x)
	one := [grain * grain]int{at, at + 1, at + b.w, at + b.w + 1}
	if b.id[one[0]]&b.id[one[1]]&b.id[one[2]]&b.id[one[3]] < 0 { // only -1 has its top bit set
		return sum, 0, false
	}
	const share = 1.0 / (grain * grain)
	last := int32(-1)
	var c rgb
	for k, i := range one {
		id := b.id[i]
		if id < 0 || b == l.d.glass && b.near[i] < l.d.solid.near[i] {
			continue
		}
		f := &l.d.facets[id]
		key := f.patch * 2
		if f.front {
			key++
		}
		if key != last {
			c, last = l.shade(f, float32(grain*x+k%grain), float32(grain*y+k/grain)), key
		}
		sum = sum.plus(c.times(share))
		part += share
	}
	return sum, part, part > 0
}

// shade is the colour of a facet at a sample.
func (l *lamp) shade(f *facet, x, y float32) rgb {
	x, y = x+0.5, y+0.5
	nx := f.nx[0] + f.nx[1]*x + f.nx[2]*y
	ny := f.ny[0] + f.ny[1]*x + f.ny[2]*y
	nz := f.nz[0] + f.nz[1]*x + f.nz[2]*y
	if !f.front {
		return lit(l.inside, -nx, -ny, -nz)
	}
	return lit(l.base[f.body], nx, ny, nz)
}

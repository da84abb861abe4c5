package buck_test

import (
	"math"
	"strings"
	"sync"
	"testing"

	"formbuck/buck"
	"formbuck/buck/bucktest"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// slowUnderRace leaves a test out where the race detector makes minutes of it; all of them run without
// it.
func slowUnderRace(t *testing.T) {
	t.Helper()
	if raced {
		t.Skip("takes minutes with the race detector")
	}
}

// relief is a surface over cells, dx by dy mm, worked out by trying everything: nothing of it is shared with what it judges.
type relief struct {
	x0, y0, dx, dy float64
	nx, ny         int
	z              []float64
}

func (m *relief) at(i, j int) r2.Vec {
	return r2.Vec{X: m.x0 + (float64(i)+0.5)*m.dx, Y: m.y0 + (float64(j)+0.5)*m.dy}
}

// lay is a relief over a box.
func lay(x0, x1, y0, y1, dx, dy float64, h func(r2.Vec) float64) *relief {
	m := &relief{x0: x0, y0: y0, dx: dx, dy: dy, nx: int((x1 - x0) / dx), ny: int((y1 - y0) / dy)}
	m.z = make([]float64, m.nx*m.ny)
	for n := range m.z {
		m.z[n] = h(m.at(n%m.nx, n/m.nx))
	}
	return m
}

// rolled puts a ball on every cell, sign 1, or under every cell, sign -1, and gives the highest or lowest that it reaches.
func (m *relief) rolled(radius, sign float64) *relief {
	out := *m
	out.z = make([]float64, len(m.z))
	for n := range out.z {
		out.z[n] = math.Inf(-1)
	}
	ri, rj := int(radius/m.dx), int(radius/m.dy)
	var rows sync.WaitGroup
	for j := range m.ny {
		rows.Go(func() {
			row := out.z[j*m.nx : (j+1)*m.nx]
			for v := max(0, j-rj); v <= min(m.ny-1, j+rj); v++ {
				from := m.z[v*m.nx : (v+1)*m.nx]
				for u := -ri; u <= ri; u++ {
					under := radius*radius - float64(u*u)*m.dx*m.dx - float64((v-j)*(v-j))*m.dy*m.dy
					if under < 0 {
						continue
					}
					b := math.Sqrt(under)
					for i := max(0, -u); i < min(m.nx, m.nx-u); i++ {
						row[i] = max(row[i], sign*from[i+u]+b)
					}
				}
			}
		})
	}
	rows.Wait()
	for n := range out.z {
		out.z[n] *= sign
	}
	return &out
}

// outside is the outer side over p of a sheet t thick on the relief.
func (m *relief) outside(p r2.Vec, t float64) float64 {
	best := math.Inf(-1)
	for j := max(0, int((p.Y-t-m.y0)/m.dy)); j < min(m.ny, int((p.Y+t-m.y0)/m.dy)+1); j++ {
		for i := max(0, int((p.X-t-m.x0)/m.dx)); i < min(m.nx, int((p.X+t-m.x0)/m.dx)+1); i++ {
			if under := t*t - r2.Norm2(r2.Sub(m.at(i, j), p)); under >= 0 {
				best = max(best, m.z[j*m.nx+i]+math.Sqrt(under))
			}
		}
	}
	return best
}

// onBuck is what a knife's sheet is formed over at p, bosses aside.
func onBuck(t *testing.T, k *buck.Knife) func(r2.Vec) float64 {
	_, ramps, err := k.Ramps()
	if err != nil {
		t.Fatal(err)
	}
	return func(p r2.Vec) float64 {
		z := k.Half(p)
		if on := k.ZoneAt(p); on == buck.OnBevel || on == buck.OnFlat {
			z += k.Spec.Tape.Total()
		}
		for _, r := range ramps.Bossed {
			if r.BaseAt(p) != buck.NoBase {
				z = max(z, r.Height(p))
			}
		}
		return z
	}
}

// TestClipOverFormedSheath: with the thistle's clip 40 to 80 mm long the boss is as high as the formed sheath and the bare
// handle under the clip ask for, found by brute force: the sheet is rolled on with a ball, its outer side taken square to
// it. The height never falls as the clip grows, and rises as steeply as a formed wall.
func TestClipOverFormedSheath(t *testing.T) {
	slowUnderRace(t)
	v, plan := bucktest.Demo(t, "thistle")
	v.Spec.Clip.Length = 80
	k := bucktest.Knife(t, plan, v.Spec)
	s := k.Spec
	first, err := buck.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	c, half, gauge := first.Top.Centre, s.Clip.Width/2, s.Sheet.Thickness
	const wall = 10.0 // x ahead of which nothing is steep
	y0, y1 := c.Y-half-3*gauge-3, c.Y+half+3*gauge+3
	h := onBuck(t, k)
	closed := func(x0, x1, dx, dy float64) *relief {
		return lay(x0-3*gauge-3, x1+3*gauge+3, y0, y1, dx, dy, h).rolled(2*gauge, 1).rolled(2*gauge, -1)
	}
	steep, plain := closed(0, wall, 0.05, 0.13), closed(wall, c.X+20, 0.3, 0.3)
	column := func(m *relief, x float64) float64 {
		most := math.Inf(-1)
		for y := -half; y <= half; y += half / 32 {
			most = max(most, m.outside(r2.Vec{X: x, Y: c.Y + y}, gauge))
		}
		return most
	}
	ahead := math.Inf(-1) // of the wall
	for x := wall; x < c.X+20; x += 0.5 {
		ahead = max(ahead, column(plain, x))
	}
	columns := map[int]float64{} // eighths of a millimetre ahead of the longest clip's end, within the mouth
	for n := range 8 * 40 {
		switch x := c.X - 40 + float64(n)/8; {
		case x < 0 && x > -0.125, x == 0:
			columns[n] = column(steep, 0) // the mouth's edge
		case x > 0 && x < wall:
			columns[n] = column(steep, x)
		}
	}
	last := 0.0
	for long := 40.0; long <= 80; long += size.Or(2, 0.5) {
		shorter := *k
		shorter.Spec.Clip.Length = long
		p, err := buck.NewStandoff(&shorter)
		if err != nil {
			t.Fatal(err)
		}
		back := c.X - long/2
		z := ahead
		for n := int(math.Round(8 * (80 - long) / 2)); n < 8*40; n++ {
			if high, ok := columns[n]; ok {
				z = max(z, high)
			}
		}
		for x := back; x <= 0; x += 0.1 {
			for y := -half; y <= half; y += half / 32 {
				z = max(z, k.Half(r2.Vec{X: x, Y: c.Y + y}))
			}
		}
		want := max(z+s.Clip.Clearance-s.Sheet.BossThickness, p.Face+s.Plate.Thickness+s.Standoff.Clearance)
		t.Logf("clip %.1f mm: %.3f mm over the face, %s", long, p.Height(), p.Governing().What)
		near(t, "top under a clip of "+p.Governing().What, p.TopZ, want, 0.05)
		if gap := p.TopZ + s.Sheet.BossThickness - z; p.Governing().What != "plate over the blade" {
			near(t, "gap between clip and sheath", gap, s.Clip.Clearance, 0.05)
		}
		if p.TopZ < last-1e-6 {
			t.Errorf("a clip of %.1f mm lowers the boss from %.4f to %.4f mm", long, last, p.TopZ)
		}
		last = p.TopZ
	}
}

// TestClipBesideBoss: the boss itself is left aside when the sheath under its clip is formed; with it on, the ball rests on
// it, too, and the sheet between it and the handle stands higher. It does not come to touch the clip's end.
func TestClipBesideBoss(t *testing.T) {
	slowUnderRace(t)
	v, plan := bucktest.Demo(t, "thistle")
	for _, long := range []float64{50, 54, 60} {
		v.Spec.Clip.Length = long
		k := bucktest.Knife(t, plan, v.Spec)
		p, err := buck.NewStandoff(k)
		if err != nil {
			t.Fatal(err)
		}
		s, bare := k.Spec, onBuck(t, k)
		c := p.Top.Centre
		m := lay(-15, 20, c.Y-10, c.Y+10, 0.1, 0.2, func(q r2.Vec) float64 {
			if p.Foot().Distance(q) < 0 {
				return max(bare(q), p.Plane(q))
			}
			return bare(q)
		}).rolled(2*s.Sheet.Thickness, 1).rolled(2*s.Sheet.Thickness, -1)
		face := p.TopZ + s.Sheet.BossThickness // the clip's lower one
		gap := face - m.outside(r2.Vec{X: max(c.X-long/2, 0), Y: c.Y}, s.Sheet.Thickness)
		t.Logf("clip of %g mm: %.3f mm from the sheath with the boss on", long, gap)
		least := s.Clip.Clearance - 0.05
		if long == 50 {
			least = 0.2 * s.Clip.Clearance // the sheet rests on the boss, too, where the clip ends just beside it
		}
		if gap < least {
			t.Errorf("clip of %g mm: %.3f mm from the sheath with the boss on", long, gap)
		}
	}
}

// TestLastOfClip: where the clip's end laps a formed wall by a few tenths and that costs millimetres of height, what would
// spare it is said, and does.
func TestLastOfClip(t *testing.T) {
	slowUnderRace(t)
	v, plan := bucktest.Demo(t, "thistle")
	v.Spec.Handle.Rounding = 1 // so that the wall is upright
	said := 0
	for long := 48.4; long <= 50.5; long += 0.6 {
		v.Spec.Clip.Length = long
		p, err := buck.NewStandoff(bucktest.Knife(t, plan, v.Spec))
		if err != nil {
			t.Fatal(err)
		}
		spare := p.Spared()
		if spare == nil {
			continue
		}
		said++
		if !strings.Contains(spare.String(), "clip.length") || spare.Height < 1.5 {
			t.Errorf("clip of %g mm: %s", long, spare)
		}
		shorter, moved := v.Spec, v.Spec
		shorter.Clip.Length = spare.Length
		moved.Standoff.X = spare.X
		for name, s := range map[string]buck.Spec{"shorter": shorter, "moved": moved} {
			q, err := buck.NewStandoff(bucktest.Knife(t, plan, s))
			if err != nil {
				t.Fatal(err)
			}
			if less := p.TopZ - q.TopZ; less < spare.Height-0.02 {
				t.Errorf("clip of %g mm, %s: %.2f mm lower, said %.2f", long, name, less, spare.Height)
			}
		}
	}
	if said == 0 {
		t.Error("nothing is said of a clip of any length")
	}
}

// TestClipOnDemos: the clips of the other demos, one of them canted, lie over the sheathed handle; the boss is as high as
// brute force finds it there.
func TestClipOnDemos(t *testing.T) {
	slowUnderRace(t)
	for _, name := range []string{"otter", "minnow"}[:size.Or(1, 2)] {
		v, plan := bucktest.Demo(t, name)
		k := bucktest.Knife(t, plan, v.Spec)
		p, err := buck.NewStandoff(k)
		if err != nil {
			t.Fatal(err)
		}
		s, gauge := k.Spec, k.Spec.Sheet.Thickness
		c, room := p.Top.Centre, s.Clip.Width/2+3+3*gauge
		m := lay(-3*gauge-3, 8, c.Y-room-3, c.Y+room, 0.06, 0.13, onBuck(t, k)).rolled(2*gauge, 1).rolled(2*gauge, -1)
		z := math.Inf(-1)
		for u := 0.0; u <= s.Clip.Length; u += 0.1 {
			for w := -0.5; w <= 0.5; w += 1.0 / 64 {
				q := p.Top.At(r2.Vec{X: u - s.Clip.Length/2, Y: w * s.Clip.Width})
				switch {
				case q.X < 0:
					z = max(z, k.Half(q))
				case q.X < 3:
					z = max(z, m.outside(q, gauge))
				}
			}
		}
		near(t, name+": top", p.TopZ, z+s.Clip.Clearance-s.Sheet.BossThickness, 0.05)
	}
}

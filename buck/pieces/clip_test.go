package pieces_test

import (
	"math"
	"strings"
	"sync"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/bucktest/anyknife"
	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/buck/variant"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// slowUnderRace leaves a test out where the race detector makes minutes of it; all of them run
// without it.
func slowUnderRace(t *testing.T) {
	t.Helper()
	if raced {
		t.Skip("takes minutes with the race detector")
	}
}

// relief is a surface over cells, dx by dy mm, worked out by trying everything: nothing of it is
// shared with what it judges.
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

// rolled puts a ball on every cell, sign 1, or under every cell, sign -1, and gives the highest or
// lowest that it reaches.
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
func onBuck(t *testing.T, k *pieces.Buck) func(r2.Vec) float64 {
	_, ramps, err := k.Ramps()
	if err != nil {
		t.Fatal(err)
	}
	return func(p r2.Vec) float64 {
		z := k.Half(p)
		if on := k.ZoneAt(p); on == knives.OnBevel || on == knives.OnFlat {
			z += k.Spec.Tape.Total()
		}
		for _, r := range ramps.Bossed {
			if r.BaseAt(p) != pieces.NoBase {
				z = max(z, r.Height(p))
			}
		}
		return z
	}
}

// gaps is how far a boss's clip is from what lies under it at the least, and where: from the sheath
// formed over the buck with the boss on, what is nearer to the boss's foot than the sheet's
// thickness left out, and from the bare knife behind the mouth. It is found by brute force, on
// cells dx by dy mm, from the clip's end at the mouth to the boss's.
func gaps(k *pieces.Buck, p *pieces.StandoffPiece, bare func(r2.Vec) float64, dx, dy float64) (
	least float64, at r2.Vec,
) {
	s, foot, gauge := k.Spec, p.Foot(), k.Spec.Sheet.Thickness
	ball := s.Sheet.Ball()
	under := func(u, w float64) r2.Vec { return p.Top.At(r2.Vec{X: u, Y: w}) }
	long, half, to := s.Clip.Length/2, s.Clip.Width/2, -p.Top.Length/2
	low, high := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	corners := []r2.Vec{under(-long, -half), under(-long, half), under(to, -half), under(to, half)}
	for _, q := range corners {
		low = r2.Vec{X: min(low.X, q.X), Y: min(low.Y, q.Y)}
		high = r2.Vec{X: max(high.X, q.X), Y: max(high.Y, q.Y)}
	}
	room := 2*ball + gauge + 0.5
	m := lay(max(low.X, 0)-room, high.X+room, low.Y-room, high.Y+room, dx, dy, func(q r2.Vec) float64 {
		if foot.Distance(q) < 0 {
			return max(bare(q), p.Plane(q))
		}
		return bare(q)
	}).rolled(ball, 1).rolled(ball, -1)
	face := p.TopZ + s.Sheet.BossThickness // the clip's lower one
	least = math.Inf(1)
	mouth, out := k.MouthLine()
	look := func(q r2.Vec) {
		z := math.Inf(-1)
		switch past := r2.Dot(r2.Sub(q, mouth), out); {
		case past > 0:
			z = k.WornHalf(q)
		case foot.Distance(q) >= gauge:
			z = m.outside(q, gauge)
		}
		if face-z < least {
			least, at = face-z, q
		}
	}
	for u := -long; u <= to; u += 0.125 {
		for w := -half; w <= half+1e-9; w += half / 48 {
			look(under(u, w))
		}
	}
	return least, at
}

// cleared holds a boss to the clip's clearance: no less, and no more where it is the clip that asks
// for its height.
func cleared(t *testing.T, k *pieces.Buck, p *pieces.StandoffPiece, bare func(r2.Vec) float64) {
	t.Helper()
	const off = 0.05 // mm: of which a ball whose middle is over middles of cells takes up to 0.03
	gap, at := gaps(k, p, bare, 0.08, 0.2)
	t.Logf("clip %.1f mm: boss %.3f mm over the face, %s; gap %.3f mm at (%.2f, %.2f)",
		k.Spec.Clip.Length, p.Height(), p.Governing().What, gap, at.X, at.Y)
	if math.IsInf(gap, 1) {
		return // all of the clip lies over the boss's foot and its wall
	}
	want, asks := k.Spec.Clip.Clearance, p.Governing() == p.Demands[1]
	if gap < want-off || gap > want+off && asks {
		t.Errorf("clip of %.1f mm, %s: %.3f mm from the sheath at %v with the boss on, %.3g mm asked for",
			k.Spec.Clip.Length, p.Governing().What, gap, at, want)
	}
}

// TestClipBesideBoss: with the demos' clips 40 to 80 mm long the clip is as far from the formed
// sheath and the bare handle as was asked for, the boss on the buck: between it and the handle the
// sheet leans on both and stands higher than it does without the boss. The height never falls as
// the clip grows.
func TestClipBesideBoss(t *testing.T) {
	slowUnderRace(t)
	for name, step := range map[string]float64{
		"thistle": size.Or(8, 0.5), "minnow": size.Or(20.0, 3), "otter": size.Or(20.0, 3),
	} {
		v, plan := bucktest.Demo(t, name)
		k := bucktest.Knife(t, plan, v.Spec)
		bare, last := onBuck(t, k), 0.0
		for long := 40.0; long <= 80; long += step {
			other := *k // shares what was worked out for the knife
			other.Spec.Clip.Length = long
			p, err := pieces.NewStandoff(&other)
			if err != nil {
				t.Fatal(err)
			}
			if p.TopZ < last-1e-6 {
				t.Errorf("%s: a clip of %.3f mm lowers the boss from %.6f to %.6f mm", name, long, last, p.TopZ)
			}
			last = p.TopZ
			cleared(t, &other, p, bare)
		}
	}
}

// TestClipOnAnyKnife: so it is on knives at random, with their own clips and with shorter ones that
// are to be further off.
func TestClipOnAnyKnife(t *testing.T) {
	slowUnderRace(t)
	looked, most := 0, size.Or(4, 20)
	for seed := uint64(0); looked < most; seed++ {
		plan, v := anyKnife(seed)
		if plan == nil {
			continue
		}
		for _, change := range []func(*measures.Spec){
			func(*measures.Spec) {},
			func(s *measures.Spec) { s.Clip.Length, s.Clip.Clearance = s.Plate.Length+11, 2 },
		} {
			s := v.Spec
			change(&s)
			k, err := pieces.NewBuck(plan, s)
			if err != nil {
				break
			}
			if _, _, err := k.Ramps(); err != nil {
				break
			}
			p, err := pieces.NewStandoff(k)
			if err != nil || s.Standoff.Height != 0 {
				continue
			}
			looked++
			t.Logf("seed %d", seed)
			cleared(t, k, p, onBuck(t, k))
		}
	}
}

// anyKnife reads a knife at random, its questions answered; nil where it is refused.
func anyKnife(seed uint64) (*profile.Plan, *variant.Variant) {
	for knife := anyknife.New(seed); ; {
		plan, v, err := planOf(knife)
		if err == nil {
			return plan, v
		}
		if _, ok := knife.Answer(err.Error()); !ok {
			return nil, nil
		}
	}
}

func planOf(knife *anyknife.Knife) (*profile.Plan, *variant.Variant, error) {
	file := knife.TOML("any.dxf")
	v, err := variant.Load("any.toml", func(string) ([]byte, error) { return file, nil })
	if err != nil {
		return nil, nil, err
	}
	d, err := dxf.Parse(knife.DXF(), "any.dxf")
	if err != nil {
		return nil, nil, err
	}
	drawn, err := profile.Read(d, profile.Options{Units: v.Drawing.Units})
	if err != nil {
		return nil, nil, err
	}
	plan, err := drawn.Plan(v.Hints())
	return plan, v, err
}

// TestLastOfClip: where the clip's end laps a formed wall by a few tenths and that costs
// millimetres of height, what would spare it is said, and does.
func TestLastOfClip(t *testing.T) {
	slowUnderRace(t)
	v, plan := bucktest.Demo(t, "thistle")
	v.Spec.Handle.Rounding = 1 // so that the wall is upright
	const away = 8             // from the handle, so that the sheet does not lean on the boss, too
	v.Spec.Standoff.X = away
	said := 0
	for long := 48.4 + 2*away; long <= 50.5+2*away; long += 0.6 {
		v.Spec.Clip.Length = long
		p, err := pieces.NewStandoff(bucktest.Knife(t, plan, v.Spec))
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
		for name, s := range map[string]measures.Spec{"shorter": shorter, "moved": moved} {
			q, err := pieces.NewStandoff(bucktest.Knife(t, plan, s))
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

// TestClipOnDemos: the clips of the other demos, one of them canted, lie over the sheathed handle;
// the boss is as high as brute force finds it there.
func TestClipOnDemos(t *testing.T) {
	slowUnderRace(t)
	for _, name := range []string{"otter", "minnow"}[:size.Or(1, 2)] {
		v, plan := bucktest.Demo(t, name)
		k := bucktest.Knife(t, plan, v.Spec)
		p, err := pieces.NewStandoff(k)
		if err != nil {
			t.Fatal(err)
		}
		s, gauge := k.Spec, k.Spec.Sheet.Thickness
		c, room := p.Top.Centre, s.Clip.Width/2+3+3*gauge
		m := lay(-3*gauge-3, 8, c.Y-room-3, c.Y+room, 0.06, 0.13, onBuck(t, k)).
			rolled(2*gauge, 1).rolled(2*gauge, -1)
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

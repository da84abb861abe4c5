package nest_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"formbuck/buck/internal/nest"
	"formbuck/testdata/size"
)

// Sheets of 12 x 12, 12 x 24 and 24 x 48 in.
var inches = []nest.Stock{
	{Name: "12 x 12 in", Size: nest.Size{Width: 304.8, Height: 304.8}},
	{Name: "12 x 24 in", Size: nest.Size{Width: 304.8, Height: 609.6}},
	{Name: "24 x 48 in", Size: nest.Size{Width: 609.6, Height: 1219.2}},
}

// TestGrid is a table worked by hand from floor((S+k)/(b+k)), kerf 3. What is laid out is never less.
func TestGrid(t *testing.T) {
	for _, tt := range []struct {
		blank nest.Size
		want  [3]int
		yield [3]float64 // %
	}{
		{nest.Size{Width: 100, Height: 230}, [3]int{2, 5, 25}, [3]float64{49.5, 61.9, 77.4}},
		{nest.Size{Width: 120, Height: 260}, [3]int{2, 4, 18}, [3]float64{67.2, 67.2, 75.6}},
		{nest.Size{Width: 150, Height: 300}, [3]int{2, 4, 16}, [3]float64{96.9, 96.9, 96.9}},
	} {
		for i, s := range inches {
			n := nest.Grid(s.Size, tt.blank, 3)
			if n != tt.want[i] {
				t.Errorf("%v on %s: %d, want %d", tt.blank, s.Name, n, tt.want[i])
			}
			if yield := 100 * float64(n) * tt.blank.Area() / s.Area(); math.Abs(yield-tt.yield[i]) > 0.051 {
				t.Errorf("%v on %s: yield %.2f %%, want %.1f", tt.blank, s.Name, yield, tt.yield[i])
			}
			s.Count = 1
			b := nest.Blank{Size: tt.blank, Turned: nest.Size{Width: tt.blank.Height, Height: tt.blank.Width}}
			list := make([]nest.Blank, n)
			for k := range list {
				list[k] = b
			}
			if _, err := nest.Plan(list, []nest.Stock{s}, nest.Saw{Kerf: 3}); err != nil {
				t.Errorf("%d of %v on %s: %v", n, tt.blank, s.Name, err)
			}
		}
	}
}

// piece is a piece of sheet while it is sawn.
type piece struct{ nest.Rect }

const tiny = 1e-6

// saw makes the cuts of a sheet, one after the other, and fails where one does not go through one
// piece from edge to edge.
func saw(t *testing.T, s *nest.Sheet, kerf float64) []piece {
	t.Helper()
	pieces := []piece{{nest.Rect{Size: s.Stock.Size}}}
	for _, c := range s.Cuts {
		hit := -1
		for i, p := range pieces {
			along := math.Abs(c.X-p.X) < tiny && math.Abs(c.Width-p.Width) < tiny && c.Y > p.Y-tiny && c.Y+c.Height < p.Y+p.Height+tiny
			if c.Upright {
				along = math.Abs(c.Y-p.Y) < tiny && math.Abs(c.Height-p.Height) < tiny && c.X > p.X-tiny && c.X+c.Width < p.X+p.Width+tiny
			}
			if along {
				hit = i
			}
		}
		if hit < 0 {
			t.Fatalf("cut %+v goes through no piece from edge to edge", c)
		}
		p := pieces[hit]
		a, b, width := p, p, c.Height
		if c.Upright {
			width = c.Width
			a.Width = c.X - p.X
			b.X, b.Width = c.X+c.Width, p.X+p.Width-c.X-c.Width
		} else {
			a.Height = c.Y - p.Y
			b.Y, b.Height = c.Y+c.Height, p.Y+p.Height-c.Y-c.Height
		}
		// A kerf is narrower only where the saw runs out of the sheet.
		if width > kerf+tiny || width < kerf-tiny && b.Width > tiny && b.Height > tiny {
			t.Fatalf("cut %+v is not %g wide", c, kerf)
		}
		pieces[hit] = a
		if b.Width > tiny && b.Height > tiny {
			pieces = append(pieces, b)
		}
	}
	return pieces
}

// check saws every sheet and finds each blank among the pieces, each piece used once.
func check(t *testing.T, blanks []nest.Blank, sheets []*nest.Sheet, kerf float64) {
	t.Helper()
	seen := make([]bool, len(blanks))
	lies := make(map[int]bool)
	for _, s := range sheets {
		pieces := saw(t, s, kerf)
		used := make([]bool, len(pieces))
		for _, p := range s.Placed {
			want := blanks[p.Blank].Size
			if p.Turned {
				want = blanks[p.Blank].Turned
			}
			if p.Size != want || seen[p.Blank] {
				t.Fatalf("blank %d is %v, want %v, or laid twice", p.Blank, p.Size, want)
			}
			seen[p.Blank] = true
			if like := blanks[p.Blank].Like; like > 0 {
				if over, laid := lies[like]; laid && over != p.Turned {
					t.Fatalf("the two blanks %d lie crossed", like)
				}
				lies[like] = p.Turned
			}
			found := false
			for i, q := range pieces {
				same := math.Hypot(p.X-q.X, p.Y-q.Y) < tiny && math.Hypot(p.Width-q.Width, p.Height-q.Height) < tiny
				if same && !used[i] {
					used[i], found = true, true
					break
				}
			}
			if !found {
				t.Fatalf("blank %d at %+v is no piece that the cuts leave", p.Blank, p.Rect)
			}
		}
		if left := len(pieces) - len(s.Placed); left != len(s.Rest) {
			t.Fatalf("%d pieces are left over, %d rests are told", left, len(s.Rest))
		}
	}
	for n, laid := range seen {
		if !laid {
			t.Fatalf("blank %d is on no sheet", n)
		}
	}
}

func randomBlanks(rng *rand.Rand) []nest.Blank {
	blanks := make([]nest.Blank, 1+rng.IntN(14))
	for n := range blanks {
		if n > 0 && rng.IntN(3) > 0 {
			blanks[n] = blanks[n-1]
			continue
		}
		b := nest.Blank{Size: nest.Size{Width: 40 + 200*rng.Float64(), Height: 60 + 240*rng.Float64()}}
		if rng.IntN(4) > 0 {
			b.Turned = nest.Size{Width: b.Height, Height: b.Width}
		}
		blanks[n] = b
	}
	for n := 1; n < len(blanks); n += 2 {
		if rng.IntN(2) == 0 { // a sheath's two
			blanks[n] = blanks[n-1]
			blanks[n-1].Like, blanks[n].Like = n, n
		}
	}
	return blanks
}

// TestGrainNotCrossed cuts the two blanks of each sheath one way, on one sheet or several, where the closest packing would
// cross them, and where only one way leaves a place for both.
func TestGrainNotCrossed(t *testing.T) {
	pair := func(like int, w, h float64) []nest.Blank {
		b := nest.Blank{Size: nest.Size{Width: w, Height: h}, Turned: nest.Size{Width: h, Height: w}, Like: like}
		return []nest.Blank{b, b}
	}
	for name, tt := range map[string]struct {
		blanks []nest.Blank
		stock  []nest.Stock
		sheets int
	}{
		"side by side":            {append(pair(1, 100, 200), pair(2, 100, 200)...), []nest.Stock{{Size: nest.Size{Width: 200, Height: 300}}}, 2},
		"a sheet that is crossed": {pair(1, 100, 200), []nest.Stock{{Size: nest.Size{Width: 200, Height: 100}, Count: 1}, {Size: nest.Size{Width: 100, Height: 200}, Count: 2}}, 2},
	} {
		sheets, err := nest.Plan(tt.blanks, tt.stock, nest.Saw{})
		if err != nil || len(sheets) != tt.sheets {
			t.Errorf("%s: %d sheets, %v", name, len(sheets), err)
		}
		check(t, tt.blanks, sheets, 0)
	}
}

// TestRandomLists lays out random lists: nothing overlaps, the kerf is kept, every cut goes from edge to edge.
func TestRandomLists(t *testing.T) {
	size.Long(t)
	rng := rand.New(rand.NewPCG(3, 1000))
	for range size.Or(50, 1000) {
		blanks, kerf := randomBlanks(rng), float64(rng.IntN(5))
		sheets, err := nest.Plan(blanks, inches, nest.Saw{Kerf: kerf})
		if err != nil {
			t.Fatal(err)
		}
		check(t, blanks, sheets, kerf)
	}
}

func TestShort(t *testing.T) {
	small := []nest.Stock{{Name: "offcut", Size: nest.Size{Width: 200, Height: 300}, Count: 1}}
	var short *nest.Short
	_, err := nest.Plan([]nest.Blank{{Size: nest.Size{Width: 300, Height: 200}}}, small, nest.Saw{Kerf: 3})
	if !errors.As(err, &short) || !short.Large {
		t.Errorf("a blank that may not be turned: %v", err)
	}
	_, err = nest.Plan([]nest.Blank{{Size: nest.Size{Width: 150, Height: 200}}, {Size: nest.Size{Width: 150, Height: 200}}}, small, nest.Saw{Kerf: 3})
	if !errors.As(err, &short) || short.Large {
		t.Errorf("one sheet for two blanks: %v", err)
	}
	sheets, err := nest.Plan(nil, small, nest.Saw{Kerf: 3})
	if err != nil || len(sheets) != 0 {
		t.Errorf("nothing to cut: %v, %v", sheets, err)
	}
}

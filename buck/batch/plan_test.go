package batch_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"formbuck/buck/batch"
	"formbuck/buck/internal/nest"
	"formbuck/buck/measures"
	"formbuck/buck/program/runs"
	"formbuck/testdata/size"
)

const shopText = `
[press]
presses = 1
[[sheet]]
colour = "moss"
gauge = 2
width = "24 in"
height = "48 in"
[[sheet]]
colour = "slate"
gauge = "0.093 in"
width = 304.8
height = 609.6
`

func readShop(t testing.TB, text string) *batch.Shop {
	t.Helper()
	shop, err := batch.ReadShop("shop.toml", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return shop
}

func day(t testing.TB, text string) batch.Day {
	t.Helper()
	d, err := batch.ParseDay(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// articles of invented knives: two gauges, four hands.
func article(variant string, hand measures.Hand, gauge float64) *batch.Article {
	bosses := len(measures.Hip.Faces(hand))
	programs := []batch.Program{
		{File: variant + "-drill.ngc", Does: "drill the pair", Kind: runs.Drill, Work: "the pair", Tool: "T1, drill of 6.35 mm"},
		{File: variant + "-trim-right-half.ngc", Does: "trim the right half", Kind: runs.Trim, Work: "right half", Tool: "T2, cutter of 6.35 mm"},
		{File: variant + "-trim-left-half.ngc", Does: "trim the left half", Kind: runs.Trim, Work: "left half", Tool: "T2, cutter of 6.35 mm"},
	}
	for range bosses {
		programs = append(programs, batch.Program{File: variant + "-posts.ngc", Does: "drill the post holes", Kind: runs.Posts, Work: "a half", Tool: "T1, drill of 6.35 mm"})
	}
	return &batch.Article{
		Programs: programs,
		Key:      batch.Key{Variant: variant, Hand: hand, Gauge: gauge},
		Blank:    nest.Blank{Size: nest.Size{Width: 110, Height: 250}, Turned: nest.Size{Width: 243, Height: 113}},
		Eyelets:  11, Bosses: bosses, Posts: 2 * bosses, Holes: 12, Trim: 560,
		Pieces: []string{variant + "-ramp-any.stl", variant + "-drain-any.stl"},
	}
}

// randomRequest is a list of orders over some articles.
func randomRequest(rng *rand.Rand, shop *batch.Shop, orders, variants, most int) batch.Request {
	r := batch.Request{Shop: shop}
	for n := range orders {
		colour, gauge := "moss", 2.0
		if rng.IntN(3) == 0 {
			colour, gauge = "slate", 0.093*25.4
		}
		hand := measures.Hands()[rng.IntN(4)]
		o := batch.Order{ID: fmt.Sprint(n + 1), Hand: hand, Colour: colour, Quantity: 1 + rng.IntN(most)}
		r.Orders = append(r.Orders, o)
		r.Articles = append(r.Articles, article(fmt.Sprintf("knife%02d", rng.IntN(variants)), hand, gauge))
	}
	return r
}

func newPlan(t testing.TB, r batch.Request) *batch.Plan {
	t.Helper()
	p, err := batch.New(r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestScheduleHolds checks what no schedule may break: a machine does one thing at a time, a hot
// sheet does not wait, steps follow each other, a buck is in one press, nothing goes on overnight.
func TestScheduleHolds(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for range 15 {
		shop := readShop(t, shopText)
		shop.Press.Count, shop.Heat.Count, shop.Mill.Count, shop.Bench.Count = 1+rng.IntN(3), 1+rng.IntN(2), 1+rng.IntN(2), 1+rng.IntN(3)
		p := newPlan(t, randomRequest(rng, shop, 1+rng.IntN(12), 3, 2))
		step := make(map[int]float64)
		if want := 7 * len(p.Loads); len(p.Schedule.Slots) != want {
			t.Fatalf("%d steps, want %d", len(p.Schedule.Slots), want)
		}
		bucks := make(map[batch.Key][][2]float64)
		for _, s := range batch.Steps() {
			for _, slot := range p.Schedule.Slots {
				if slot.Step != s {
					continue
				}
				l := p.Loads[slot.Load]
				if slot.Begin < step[slot.Load]-1e-6 || s == batch.Pressing && slot.Begin > step[slot.Load]+1e-6 {
					t.Fatalf("load %d: %s begins at %g, the step before ends at %g", slot.Load, s, slot.Begin, step[slot.Load])
				}
				step[slot.Load] = slot.End
				if d := shop.Day.Minutes; math.Floor(slot.Begin/d+1e-9) != math.Ceil(slot.End/d-1e-9)-1 {
					t.Fatalf("%s goes on overnight: %g to %g", s, slot.Begin, slot.End)
				}
				if s == batch.Pressing {
					bucks[l.Article.Key] = append(bucks[l.Article.Key], [2]float64{slot.Begin, slot.End})
				}
			}
		}
		for k, times := range bucks {
			for i, a := range times {
				for _, b := range times[i+1:] {
					if a[0] < b[1]-1e-6 && b[0] < a[1]-1e-6 {
						t.Fatalf("buck %v is in two presses at once", k)
					}
				}
			}
		}
		checkMachines(t, p)
	}
}

func checkMachines(t *testing.T, p *batch.Plan) {
	t.Helper()
	place := map[batch.Step]string{
		batch.Heating: "heat", batch.Pressing: "press", batch.Drilling: "mill", batch.Trimming: "mill",
		batch.Parting: "bench", batch.Finish: "bench", batch.Riveting: "bench",
	}
	for i, a := range p.Schedule.Slots {
		for _, b := range p.Schedule.Slots[i+1:] {
			if place[a.Step] == place[b.Step] && a.Machine == b.Machine && a.Begin < b.End-1e-6 && b.Begin < a.End-1e-6 {
				t.Fatalf("%s %d does two things at once: %+v and %+v", place[a.Step], a.Machine, a, b)
			}
		}
	}
}

// TestAgainstAllOrders tries all orders of a few loads on one press: the plan is done pressing within 5 % of the best.
func TestAgainstAllOrders(t *testing.T) {
	size.Long(t)
	rng := rand.New(rand.NewPCG(8, 200))
	worst := 1.0
	for range 200 {
		shop := readShop(t, shopText)
		shop.Press.Minutes = 4 + 12*rng.Float64()
		shop.Heat.PerMM = 1 + 5*rng.Float64()
		shop.Press.Buck, shop.Press.Gauge, shop.Press.Colour = 8*rng.Float64(), 12*rng.Float64(), 3*rng.Float64()
		p := newPlan(t, randomRequest(rng, shop, 1+rng.IntN(6), 3, 1))
		least := math.Inf(1)
		each(len(p.Loads), func(order []int) { least = min(least, batch.Pressed(p, order)) })
		worst = max(worst, p.Schedule.Pressed/least)
		if p.Schedule.Pressed > 1.05*least {
			t.Errorf("%d loads are pressed after %g, the best order takes %g", len(p.Loads), p.Schedule.Pressed, least)
		}
	}
	t.Logf("at worst %.4f times the best", worst)
}

// each calls yield with every order of n.
func each(n int, yield func([]int)) {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	var permute func(int)
	permute = func(k int) {
		if k == n {
			yield(order)
			return
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			permute(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	permute(0)
}

// TestPressLimits is worked by hand: heats shorter than the press, so that all is pressed after the
// first heat and six presses, 7 + 6 x 15 = 97 minutes.
func TestPressLimits(t *testing.T) {
	shop := readShop(t, shopText)
	r := batch.Request{Shop: shop}
	a := article("alder", measures.Right, 2)
	r.Orders = []batch.Order{{ID: "1", Hand: measures.Right, Colour: "moss", Quantity: 6}}
	r.Articles = []*batch.Article{a}
	p := newPlan(t, r)
	if math.Abs(p.Schedule.Pressed-97) > 1e-9 {
		t.Errorf("pressed after %g minutes, want 97", p.Schedule.Pressed)
	}
	for i, want := range []int{66, 6, 12, 6} {
		if c := p.Counts[i]; c.Need != want {
			t.Errorf("%d of %s, want %d", c.Need, c.Name, want)
		}
	}
}

// TestLate checks that dates go before changes, and that who is late is named.
func TestLate(t *testing.T) {
	shop := readShop(t, shopText)
	shop.Day.Minutes = 120
	r := batch.Request{Shop: shop, Start: day(t, "2026-12-04")} // a Friday
	for n, due := range []string{"2026-12-31", "2026-12-04", "2026-12-03"} {
		hand := measures.Hands()[n]
		r.Orders = append(r.Orders, batch.Order{ID: fmt.Sprint(n), Hand: hand, Colour: "moss", Quantity: 1, Due: day(t, due)})
		r.Articles = append(r.Articles, article("alder", hand, 2))
	}
	p := newPlan(t, r)
	if len(p.Late) != 2 && len(p.Late) != 1 {
		t.Fatalf("late: %+v", p.Late)
	}
	if l := p.Late[len(p.Late)-1]; l.Order != 2 || l.Ready.Before(r.Start) {
		t.Errorf("late: %+v", l)
	}
	if p.Schedule.Ready[0] < p.Schedule.Ready[2] {
		t.Error("the order with time is done first")
	}
}

// TestAfter counts working days, by the calendar of December 2026, whose 7th is a Monday (ISO 8601's calendar).
func TestAfter(t *testing.T) {
	for _, c := range []struct {
		from string
		n    int
		want string
	}{
		{"2026-12-04", 0, "2026-12-04"},
		{"2026-12-04", 1, "2026-12-07"},
		{"2026-12-05", 0, "2026-12-07"},
		{"2026-12-05", 1, "2026-12-08"},
		{"2026-12-06", 0, "2026-12-07"},
		{"2026-12-06", 5, "2026-12-14"},
		{"2026-12-07", 4, "2026-12-11"},
		{"2026-12-07", 5, "2026-12-14"},
	} {
		if got := day(t, c.from).After(c.n).String(); got != c.want {
			t.Errorf("%d working days after %s is %s, want %s", c.n, c.from, got, c.want)
		}
	}
}

// TestSamePlan plans a list twice.
func TestSamePlan(t *testing.T) {
	r := randomRequest(rand.New(rand.NewPCG(1, 60)), readShop(t, shopText), 60, 5, 2)
	p := newPlan(t, r)
	if again := newPlan(t, r); !reflect.DeepEqual(p.Schedule, again.Schedule) || !reflect.DeepEqual(p.Cutting, again.Cutting) {
		t.Error("another plan for the same list")
	}
}

// BenchmarkNew plans 500 orders over 12 variants.
func BenchmarkNew(b *testing.B) {
	r := randomRequest(rand.New(rand.NewPCG(1, 500)), readShop(b, shopText), 500, 12, 2)
	for b.Loop() {
		p := newPlan(b, r)
		b.ReportMetric(float64(len(p.Loads)), "loads")
	}
}

// TestCutList adds up the blanks of the cut list: all of them, each with its order.
func TestCutList(t *testing.T) {
	p := newPlan(t, randomRequest(rand.New(rand.NewPCG(3, 7)), readShop(t, shopText), 9, 3, 2))
	var b bytes.Buffer
	if err := batch.WriteCuts(&b, p); err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	blanks := make(map[string]int)
	for _, r := range records[1:] {
		if r[4] == "blank" {
			blanks[r[10]]++
			if size := r[8] + " x " + r[9]; size != "110 x 250" && size != "243 x 113" {
				t.Errorf("a blank of %s", size)
			}
		}
	}
	for _, o := range p.Orders {
		if blanks[o.ID] != 2*o.Quantity {
			t.Errorf("order %s: %d blanks for %d sheaths", o.ID, blanks[o.ID], o.Quantity)
		}
	}
}

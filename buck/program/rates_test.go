package program_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"formbuck/buck/program"
)

// n = 1000 v / (pi d), the handbooks' formula, with a table computed from it for 6.35 mm.
func TestSpeeds(t *testing.T) {
	tool := program.Tool{Diameter: 6.35}
	for v, n := range map[float64]float64{60: 3008, 150: 7519, 200: 10026, 300: 15038, 359: 18000, 239: 12000} {
		if got := tool.Surface(n); math.Abs(got-v) > 0.5 {
			t.Errorf("%g rpm: %g m/min, want %g", n, got, v)
		}
	}
	// 2500 rpm are usual for a drill of 6.35 mm: common practice, no source.
	drill := program.Tool{Diameter: 6.35, PointDeg: 118}
	for _, m := range program.Materials() {
		r, warnings, err := drill.Drilling(m, program.Machine{}, program.Rates{Speed: 2500})
		if err != nil || len(warnings) > 0 || drill.Surface(2500) > m.DrillSpeed || r.Feed/r.Speed < m.DrillFeed.Least || r.Feed/r.Speed > m.DrillFeed.Most {
			t.Errorf("%s: 2500 rpm: %v, %q", m.Name, r, warnings)
		}
		if m.Source == "" {
			t.Errorf("%s has no source", m.Name)
		}
	}
	// 2 sqrt(x (1-x)) with x = 0.4 / 6.35.
	if got := program.Thinning(0.4, 6.35); math.Abs(got-0.486) > 5e-4 {
		t.Errorf("chips of a 0.4 mm pass are %.4f of the feed, want 0.486", got)
	}
}

func TestRateWarnings(t *testing.T) {
	m := program.Materials()[0]
	drill, cutter := program.Tool{Diameter: 6.35, PointDeg: 118}, program.Tool{Diameter: 6.35}
	for _, c := range []struct {
		name  string
		tool  program.Tool
		rates program.Rates
		width float64
		want  string
	}{
		{"usual drill", drill, program.Rates{}, 0, ""},
		{"usual cutter", cutter, program.Rates{}, 0.4, ""},
		{"drill melts", drill, program.Rates{Speed: 8000, Feed: 800}, 0, "160 m/min at the tool's rim melts the sheet: at most 150 are advised, 7500 rpm"},
		{"cutter melts", cutter, program.Rates{Speed: 18000, Feed: 5000}, 0, "359 m/min at the tool's rim melts the sheet: at most 300 are advised, 15000 rpm"},
		{"drill rubs", drill, program.Rates{Speed: 2500, Feed: 100}, 0, "0.040 mm per revolution rubs and melts: at least 0.05 are advised, 125 mm/min at this speed"},
		{"drill tears", drill, program.Rates{Speed: 2500, Feed: 500}, 0, "0.200 mm per revolution tears: at most 0.13 are advised, 325 mm/min at this speed"},
		{"cutter rubs", cutter, program.Rates{Speed: 12000, Feed: 480}, 0, "0.020 mm per tooth rubs and melts: 0.127 and more are advised for a cutter of 6.35 mm"},
		{"finish rubs", cutter, program.Rates{Speed: 12000, Feed: 1200}, 0.4, "the finishing pass of 0.4 mm rubs: its chips are 0.024 mm thick, and under 0.0254 mm an edge does not cut; feed faster or leave more"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var warnings []string
			var err error
			if c.tool.Drill() {
				_, warnings, err = c.tool.Drilling(m, program.Machine{}, c.rates)
			} else {
				_, warnings, err = c.tool.Cutting(m, program.Machine{}, c.rates, c.width)
			}
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Join(warnings, "\n"); got != c.want {
				t.Errorf("\n     %s\nwant %s", got, c.want)
			}
		})
	}
}

// What breaks a tool or tears the work off is no matter of a warning.
func TestRateRefusals(t *testing.T) {
	m := program.Materials()[0]
	drill, cutter := program.Tool{Diameter: 6.35, PointDeg: 118}, program.Tool{Diameter: 6.35}
	for _, c := range []struct {
		name  string
		tool  program.Tool
		rates program.Rates
		want  string
	}{
		{"one turn a minute", cutter, program.Rates{Speed: 1, Feed: 20000}, "a feed of 20000 mm/min, and the machine does at most 5000"},
		{"one turn a minute, slowly", cutter, program.Rates{Speed: 1, Feed: 1}, "1 rpm is too slow for a tool of 6.35 mm: at least 1500"},
		{"thick chips", cutter, program.Rates{Speed: 3000, Feed: 3100}, "0.517 mm per tooth: at most 0.254 are advised for a tool of 6.35 mm, and more than 2 times that is refused"},
		{"thin chips", cutter, program.Rates{Speed: 12000, Feed: 300}, "0.0125 mm per tooth: an edge that takes so little rubs and melts the sheet; 0.127 and more are advised for a tool of 6.35 mm"},
		{"a small cutter at the feed of a large one", program.Tool{Diameter: 1}, program.Rates{Speed: 12000, Feed: 3050}, "0.127 mm per tooth: at most 0.04 are advised for a tool of 1 mm, and more than 2 times that is refused"},
		{"over the spindle's most", program.Tool{Diameter: 3}, program.Rates{Speed: 30000, Feed: 4000}, "30000 rpm, and the machine does at most 24000"},
		{"too fast for a wide cutter", program.Tool{Diameter: 16}, program.Rates{Speed: 12000, Feed: 4000}, "603 m/min at the tool's rim: at most 300 are advised, 5900 rpm, and more than 2 times that is refused"},
		{"plunge", cutter, program.Rates{Speed: 12000, Feed: 3050, Plunge: 4000}, "a feed of 4000 mm/min downwards, and of 3050 along: down is not faster"},
		{"drill tears", drill, program.Rates{Speed: 2500, Feed: 700}, "0.280 mm per revolution: at most 0.13 are advised for a tool of 6.35 mm, and more than 2 times that is refused"},
		{"drill too slow", drill, program.Rates{Speed: 100, Feed: 10}, "100 rpm is too slow for a tool of 6.35 mm: at least 700"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var err error
			if c.tool.Drill() {
				_, _, err = c.tool.Drilling(m, program.Machine{}, c.rates)
			} else {
				_, _, err = c.tool.Cutting(m, program.Machine{}, c.rates, 0.4)
			}
			var f *program.Fault
			if !errors.As(err, &f) || err.Error() != c.want {
				t.Errorf("\n     %v\nwant %s", err, c.want)
			}
		})
	}
}

// What is filled in is never warned of, whatever cutter and machine: chips go with the cutter's diameter, and with many
// flutes the spindle turns slower rather than the feed over what the machine does.
func TestUsualRates(t *testing.T) {
	m := program.Materials()[0]
	for _, d := range []float64{0.5, 1, 2, 3, 3.175, 6, 6.35, 8, 12.7, 20, 25} {
		for flutes := 1; flutes <= 8; flutes++ {
			for _, machine := range []program.Machine{{}, {Feed: 1500, Speed: 12000}, {Feed: 20000, Speed: 60000}} {
				cutter := program.Tool{Diameter: d, Flutes: flutes}
				r, warnings, err := cutter.Cutting(m, machine, program.Rates{}, 0.06*d)
				if err != nil || len(warnings) > 0 {
					t.Errorf("%g mm, %d flutes, %+v: %+v: %v %q", d, flutes, machine, r, err, warnings)
				}
				if chip := r.Feed / r.Speed / float64(flutes); chip > 0.0401*d {
					t.Errorf("%g mm, %d flutes: chips of %.3f mm", d, flutes, chip)
				}
			}
		}
	}
	if r, _, _ := (program.Tool{Diameter: 6.35}).Cutting(m, program.Machine{}, program.Rates{}, 0.4); r != (program.Rates{Speed: 12000, Feed: 3050, Plunge: 1020}) {
		t.Errorf("the usual cutter: %+v", r)
	}
}

package main

import (
	"fmt"
	"math"
	"strings"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/pieces"

	pretty "github.com/jedib0t/go-pretty/v6/table"
)

// eyeletTable lists the eyelets, each with what keeps it from being nearer.
func eyeletTable(s *layout.Sheath) string {
	heads := []any{"eyelet", "side", "x mm", "y mm", "margin mm", "off mm", "governed by", "trim mm"}
	if s.Plate != nil {
		heads = append(heads, "spare mm")
	}
	t := lightTable(heads...)
	t.SetColumnConfigs(toRight(1, 3, 4, 5, 6, 8, 9))
	told := s.Knife.Spec.Blade.Told
	for i, e := range s.Eyelets {
		row := pretty.Row{i + 1, told(e.Side), two(e.At.X), two(e.At.Y), two(e.Need), two(e.Error), told(string(e.Governs)), two(e.Edge)}
		if s.Plate != nil {
			row = append(row, two(e.Spare))
		}
		t.AppendRow(row)
	}
	return trimmed(t.Render()) + "\n"
}

// two is a length with two places, never -0.00.
func two(v float64) string { return fmt.Sprintf("%.2f", math.Round(v*100)/100+0) }

// layoutTable says what else there is to cut and to drill.
func layoutTable(s *layout.Sheath) string {
	t := lightTable("what", "measures")
	t.SetColumnConfigs([]pretty.ColumnConfig{narrowed(2, 62)})
	spec, b := s.Knife.Spec, s.Blank
	for _, r := range s.Runs {
		t.AppendRow(pretty.Row{spec.Blade.Told(r.Side), fmt.Sprintf("%s, %.3f mm apart along their line", count(r.Count, "eyelet"), r.Pitch)})
	}
	t.AppendRow(pretty.Row{"trim line", fmt.Sprintf("%.1f mm long, %.0f mm2 within it; hollows of %.4g mm radius and more", s.TrimLength(), s.Trim.Area(), s.Hollow())})
	t.AppendRow(pretty.Row{"mouth", mouthWords(s)})
	t.AppendRow(pretty.Row{"drain", s.OutletSaid()})
	t.AppendRow(pretty.Row{"blank", fmt.Sprintf("two of %.1f x %.1f mm, extruded %s the blade, %.1f mm of it for shrink", b.Length, b.Width, b.Extrusion, b.Stretch)})
	t.AppendRow(pretty.Row{"drawn in", fmt.Sprintf(spec.Blade.Told("%.1f mm at the edge, %.1f mm at the spine, %.1f mm at the tip"), b.DrawnIn[0], b.DrawnIn[1], b.DrawnIn[2])})
	var pins []string
	for _, p := range s.Pins {
		pins = append(pins, p.String())
	}
	t.AppendRow(pretty.Row{"pins", fmt.Sprintf("Ø %.4g mm in the holes of eyelets %s", spec.Eyelet.Hole-layout.PinFit, strings.Join(pins, ", "))})
	for _, h := range []measures.Hand{measures.Right, measures.Left} {
		var at []string
		for _, p := range s.Posts {
			if p.Hand == h {
				at = append(at, fmt.Sprintf("(%s, %s)", two(p.At.X), two(p.At.Y)))
			}
		}
		if at != nil {
			t.AppendRow(pretty.Row{"posts, " + string(h), fmt.Sprintf("Ø %.4g mm at %s in the half of the %s face", spec.Hole.Diameter, strings.Join(at, " and "), spec.Faces(h)[0])})
		}
	}
	for _, h := range s.Holes {
		t.AppendRow(pretty.Row{"hole " + h.Name, fmt.Sprintf("Ø %.4g mm at (%s, %s) through both halves", h.Diameter, two(h.At.X), two(h.At.Y))})
	}
	if sink := spec.Hole.Sink(); sink > 0 && s.Screws != nil {
		t.AppendRow(pretty.Row{"countersink", fmt.Sprintf("Ø %.4g mm at %.4g deg, %.2f mm deep, in the outer face", spec.Hole.SinkDiameter, spec.Hole.SinkAngleDeg, sink)})
	}
	if s.Plate != nil {
		t.AppendRow(pretty.Row{"plate", plateWords(s)})
	}
	if s.Screws != nil {
		t.AppendRow(pretty.Row{"screws", screwWords(spec, s.Screws)})
	}
	return trimmed(t.Render())
}

// plateWords says what the plate that the sheath is laid out on leaves to spare, and what one of its own would save.
func plateWords(s *layout.Sheath) string {
	words := fmt.Sprintf("as made for %s: every eyelet has %.2f mm to spare, or more", s.Plate.Knife, max(s.Spare(), 0))
	if alone, err := s.Alone(); err == nil {
		words += fmt.Sprintf("; a plate for this variant alone would save %.0f mm2 of sheath", s.Trim.Area()-alone.Trim.Area())
	}
	return words
}

// screwWords says which screws fit and what they pass.
func screwWords(spec measures.Spec, w *pieces.Screws) string {
	var fit []string
	for _, l := range w.Fit {
		fit = append(fit, fmt.Sprintf("%.4g mm", l))
	}
	words := fmt.Sprintf("%.2f to %.2f mm under the head: %s of those in stock", w.Least, w.Most, strings.Join(fit, ", "))
	if c, ok := measures.ClearanceOf(spec.Screw.Diameter); ok {
		words += fmt.Sprintf("; holes in the clip of %.4g to %.4g mm", c.Fine, c.Coarse)
	}
	return words
}

// wayNames are the ways to lay the pair on the mill, in words.
var wayNames = map[string]string{
	measures.ByHoles: "on pins through two holes", measures.ByGuide: "through a printed guide", measures.ByCradle: "in a cradle", measures.ByDrawing: "laid out by the drawing", measures.FromPunch: "by hand, from a punched mark",
}

// wayTable says what each way to lay the pair on the mill costs.
func wayTable(ways []layout.Cost) string {
	t := lightTable("how the pair lies", "off mm", "trimmed mm", "mm2", "for it mm2", "")
	t.SetColumnConfigs(append(toRight(2, 3, 4, 5), narrowed(1, 26), narrowed(6, 12)))
	for _, c := range ways {
		name, said := wayNames[c.Way.Name], ""
		switch {
		case c.Exact:
			name = "exactly in its place"
		case c.Governs:
			said = "as here"
		}
		if c.Why != "" {
			t.AppendRow(pretty.Row{name, "", "", "", "", "not on this knife"})
			continue
		}
		t.AppendRow(pretty.Row{name, two(c.Error), fmt.Sprintf("%.1f x %.1f", c.Trimmed[0], c.Trimmed[1]), fmt.Sprintf("%.0f", c.Area), fmt.Sprintf("%.0f", c.More), said})
	}
	return trimmed(t.Render()) + "\n"
}

// ruleTable compares the sheath with those of the rule of thumb.
func ruleTable(rules []layout.Rule) string {
	t := lightTable("rule", "mm", "size mm", "mm2", "saved mm", "saved mm2", "too near")
	t.SetColumnConfigs(append(toRight(2, 3, 4, 5, 6), narrowed(7, 20)))
	for _, r := range rules {
		near := "nowhere"
		if r.Near > 0 {
			near = fmt.Sprintf("%.0f %% by %.2f mm", 100*r.Near, r.Worst)
		}
		t.AppendRow(pretty.Row{
			fmt.Sprintf("%.4g d", r.Diameters), two(r.Distance), fmt.Sprintf("%.1f x %.1f", r.Size.X, r.Size.Y), fmt.Sprintf("%.0f", r.Area),
			fmt.Sprintf("%.1f x %.1f", r.Saved.X, r.Saved.Y), fmt.Sprintf("%.0f (%.0f %%)", r.SavedArea, 100*r.SavedArea/r.Area), near,
		})
	}
	return trimmed(t.Render()) + "\n"
}

// programTable lists the programs: what each does, with what, and for how long.
func programTable(programs []mill.Program) string {
	t := lightTable("program", "what it does", "tool", "min", "proved")
	t.SetColumnConfigs(append(toRight(4), narrowed(2, 18), narrowed(5, 22)))
	for _, p := range programs {
		tool := fmt.Sprintf("T%d Ø %.4g mm", p.Setup.Tool.Number, p.Setup.Tool.Diameter)
		if p.Err != nil {
			t.AppendRow(pretty.Row{p.Name, p.Does, tool, "", "none could be written"})
			continue
		}
		what := count(p.Proof.Drilled, "hole") + " drilled"
		if !math.IsInf(p.Proof.Steel, 0) {
			what += fmt.Sprintf(", %.2f mm off the steel", p.Proof.Steel)
		}
		if !math.IsInf(p.Proof.Closest, 0) {
			what = fmt.Sprintf("%.4f mm off the line", p.Proof.Closest)
		}
		t.AppendRow(pretty.Row{p.Name, p.Does, tool, fmt.Sprintf("%.1f", (p.Proof.Cutting+p.Proof.Over)/60), what})
	}
	return trimmed(t.Render()) + "\n"
}

func mouthWords(s *layout.Sheath) string {
	words := fmt.Sprintf("straight for %.1f mm", s.MouthWidth())
	l := s.Knife.Spec.Layout
	if l.Thumb > 0 {
		words += fmt.Sprintf(s.Knife.Spec.Blade.Told("; relief for the thumb at the spine")+", radius %.4g mm, %.4g mm deep", l.Thumb, l.ThumbDepth)
	}
	if l.Flare > 0 {
		words += fmt.Sprintf("; flared over %.4g mm at %.4g deg, %.2f mm wider on each side", l.Flare, l.FlareDeg, l.FlareGain())
	}
	return words
}

package main

import (
	"math"

	"formbuck/buck"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
)

// layoutAnswer is what layout says as JSON.
type layoutAnswer struct {
	Variant string        `json:"variant"`
	Eyelets []eyeletEntry `json:"eyelets"`
	Runs    []runEntry    `json:"runs"`
	Trim    trimEntry     `json:"trim"`
	Blank   blankEntry    `json:"blank"`
	Pins    []pinEntry    `json:"pins"`
	Posts   []postEntry   `json:"posts"`
	Holes   []mountHole   `json:"holes"`     // for other mounts, through both halves
	Flare   float64       `json:"flare_mm"`  // by which it stands out on each side
	Outlet  float64       `json:"outlet_mm"` // width of the drain at the trim line; 0: it is shut

	Screws   *screwsEntry   `json:"screws"` // null: no boss, or none fits
	Programs []programEntry `json:"programs"`
	Rules    []ruleEntry    `json:"rule_of_thumb"`
	Ways     []wayEntry     `json:"ways"`  // to lay the pair on the mill
	Plate    *plateEntry    `json:"plate"` // null: none is named
}

type wayEntry struct {
	Way     string   `json:"way"` // "": exactly in its place
	Taken   bool     `json:"taken"`
	Error   *float64 `json:"off_mm"` // the most at an eyelet; null: not on this knife
	Area    *float64 `json:"area_mm2"`
	More    *float64 `json:"for_it_mm2"`
	Missing string   `json:"missing,omitempty"` // why it cannot be
}

type plateEntry struct {
	Knife string  `json:"knife"`
	Spare float64 `json:"least_spare_mm"`
}

type eyeletEntry struct {
	At      [2]float64 `json:"at_mm"`
	Side    string     `json:"side"`
	Need    float64    `json:"margin_mm"`
	Error   float64    `json:"off_mm"`   // part of the margin
	Spare   float64    `json:"spare_mm"` // beyond it
	Governs string     `json:"governed"`
	Edge    float64    `json:"to_trim_mm"`
}

type runEntry struct {
	Side   string  `json:"side"`
	Count  int     `json:"eyelets"`
	Pitch  float64 `json:"pitch_mm"`
	Length float64 `json:"length_mm"`
}

type trimEntry struct {
	Size   [2]float64   `json:"size_mm"`
	Length float64      `json:"length_mm"`
	Area   float64      `json:"area_mm2"`
	Line   [][3]float64 `json:"line"` // x, y and bulge to the next
}

type blankEntry struct {
	Length    float64    `json:"length_mm"`
	Width     float64    `json:"width_mm"`
	Turned    [2]float64 `json:"turned_mm"`
	Extrusion string     `json:"extrusion"`
	DrawnIn   [3]float64 `json:"drawn_in_mm"`
	Stretch   float64    `json:"stretch_mm"`
}

type pinEntry struct {
	At       [2]float64 `json:"at_mm"`
	Eyelet   int        `json:"eyelet"`
	Diameter float64    `json:"diameter_mm"`
	Check    bool       `json:"check"`
}

type postEntry struct {
	At       [2]float64    `json:"at_mm"`
	Diameter float64       `json:"diameter_mm"`
	Hand     measures.Hand `json:"hand"`
	Face     measures.Face `json:"face"`
}

type mountHole struct {
	Name     string     `json:"name"`
	At       [2]float64 `json:"at_mm"`
	Diameter float64    `json:"diameter_mm"`
}

type screwsEntry struct {
	Nip   float64   `json:"nip_mm"`
	Least float64   `json:"least_mm"` // under the head
	Most  float64   `json:"most_mm"`
	Fit   []float64 `json:"fit_mm"`  // of those in stock
	Sink  float64   `json:"sink_mm"` // depth of the holes' countersink; 0: none
}

type ruleEntry struct {
	Diameters float64    `json:"diameters"`
	Distance  float64    `json:"distance_mm"`
	Size      [2]float64 `json:"size_mm"`
	Area      float64    `json:"area_mm2"`
	Saved     [2]float64 `json:"saved_mm"`
	SavedArea float64    `json:"saved_mm2"`
	Near      float64    `json:"too_near"`    // share of its line
	Worst     float64    `json:"too_near_mm"` // by how much, at the most
}

type programEntry struct {
	Name     string   `json:"name"`
	Does     string   `json:"does"`
	Cutting  float64  `json:"cutting_s"`
	Rapid    float64  `json:"rapid_s"`
	Drilled  int      `json:"drilled"`
	Closest  *float64 `json:"closest_mm"` // null for a drill
	Steel    *float64 `json:"steel_mm"`   // of the tool's rim from the knife in the work; null: none is in it
	Proved   bool     `json:"proved"`
	Fault    string   `json:"fault,omitempty"` // why there is none
	Warnings []string `json:"warnings"`
}

func programEntryOf(p mill.Program) programEntry {
	e := programEntry{Name: p.Name, Does: p.Does, Proved: p.Err == nil, Warnings: []string{}}
	if p.Err != nil {
		e.Fault = p.Err.Error()
		return e
	}
	e.Cutting, e.Rapid, e.Drilled = figure(p.Proof.Cutting), figure(p.Proof.Over), p.Proof.Drilled
	e.Warnings = append(e.Warnings, p.Warnings...)
	if !math.IsInf(p.Proof.Closest, 0) {
		closest := figure(p.Proof.Closest)
		e.Closest = &closest
	}
	if !math.IsInf(p.Proof.Steel, 0) {
		steel := figure(p.Proof.Steel)
		e.Steel = &steel
	}
	return e
}

func wayEntryOf(c layout.Cost) wayEntry {
	e := wayEntry{Way: c.Way.Name, Taken: c.Governs, Missing: c.Why}
	if c.Why == "" {
		off, area, more := figure(c.Error), figure(c.Area), figure(c.More)
		e.Error, e.Area, e.More = &off, &area, &more
	}
	return e
}

func layoutAnswerOf(l *buck.Layout, ways []layout.Cost) layoutAnswer {
	s, programs, rules := l.Sheath, l.Programs, l.Rules
	b := s.Blank
	a := layoutAnswer{
		Variant: s.Knife.Spec.Name,
		Trim:    trimEntry{Size: point(s.Trim.Bounds().Size()), Length: figure(s.TrimLength()), Area: figure(s.Trim.Area())},
		Blank: blankEntry{
			Length: figure(b.Length), Width: figure(b.Width), Turned: [2]float64{figure(b.TurnedLength), figure(b.TurnedWidth)},
			Extrusion: b.Extrusion, Stretch: figure(b.Stretch),
			DrawnIn: [3]float64{figure(b.DrawnIn[0]), figure(b.DrawnIn[1]), figure(b.DrawnIn[2])},
		},
		Posts: []postEntry{}, Holes: []mountHole{}, Flare: figure(s.Knife.Spec.Layout.FlareGain()),
		Outlet: figure(s.OutletWidth()),
	}
	for _, h := range s.Holes {
		a.Holes = append(a.Holes, mountHole{Name: h.Name, At: point(h.At), Diameter: figure(h.Diameter)})
	}
	if w := s.Screws; w != nil {
		a.Screws = &screwsEntry{Nip: figure(w.Nip), Least: figure(w.Least), Most: figure(w.Most), Sink: figure(s.Knife.Spec.Hole.Sink())}
		for _, l := range w.Fit {
			a.Screws.Fit = append(a.Screws.Fit, figure(l))
		}
	}
	for _, r := range rules {
		a.Rules = append(a.Rules, ruleEntry{
			Diameters: r.Diameters, Distance: figure(r.Distance), Size: point(r.Size), Area: figure(r.Area),
			Saved: point(r.Saved), SavedArea: figure(r.SavedArea), Near: figure(r.Near), Worst: figure(r.Worst),
		})
	}
	for _, c := range ways {
		a.Ways = append(a.Ways, wayEntryOf(c))
	}
	if s.Plate != nil {
		a.Plate = &plateEntry{Knife: s.Plate.Knife, Spare: figure(s.Spare())}
	}
	for _, p := range programs {
		a.Programs = append(a.Programs, programEntryOf(p))
	}
	for _, e := range s.Eyelets {
		a.Eyelets = append(a.Eyelets, eyeletEntry{
			At: point(e.At), Side: e.Side, Need: figure(e.Need), Error: figure(e.Error), Spare: figure(e.Spare), Governs: string(e.Governs), Edge: figure(e.Edge),
		})
	}
	for _, r := range s.Runs {
		a.Runs = append(a.Runs, runEntry{Side: r.Side, Count: r.Count, Pitch: figure(r.Pitch), Length: figure(r.Length)})
	}
	for _, seg := range s.Trim {
		a.Trim.Line = append(a.Trim.Line, [3]float64{figure(seg.A.X), figure(seg.A.Y), figure(seg.Bulge)})
	}
	for _, p := range s.Pins {
		a.Pins = append(a.Pins, pinEntry{At: point(p.At), Eyelet: p.Eyelet + 1, Diameter: figure(p.Diameter), Check: p.Check})
	}
	for _, p := range s.Posts {
		a.Posts = append(a.Posts, postEntry{At: point(p.At), Diameter: figure(p.Diameter), Hand: p.Hand, Face: p.Face})
	}
	return a
}

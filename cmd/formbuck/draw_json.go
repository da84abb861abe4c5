package main

import (
	"math"

	"formbuck/buck/measures"
	"formbuck/buck/path"
)

// drawAnswer is what draw says as JSON.
type drawAnswer struct {
	Variant string      `json:"variant"`
	Hand    string      `json:"hand"`
	Arc     *[2]float64 `json:"arc_mm"`
	Free    bool        `json:"free"`
	Binds   []bindEntry `json:"binds"`
	Rubs    []bindEntry `json:"rubs"`
	Without []bindEntry `json:"without_ramps"`
	Filled  float64     `json:"filled_mm3"`
	Removed float64     `json:"removed_mm"`
	Lock    *lockEntry  `json:"lock"`
	Hold    holdEntry   `json:"hold"`
	Held    heldEntry   `json:"held"`
	Boss    *bossEntry  `json:"boss"`
	Drain   *waterEntry `json:"drain"`

	Plates []passageEntry `json:"plates"`
}

// passageEntry is how a boss's plate goes in from the mouth.
type passageEntry struct {
	Boss   string     `json:"boss"` // "": the first
	Passes bool       `json:"passes"`
	Spare  float64    `json:"spare_mm"`
	At     [2]float64 `json:"at_mm"` // where there is least room, the plate's middle
}

type bindEntry struct {
	Face   string     `json:"face"`
	Side   string     `json:"side"`
	At     [2]float64 `json:"at_mm"`
	Depth  float64    `json:"depth_mm"`
	Area   float64    `json:"area_mm2"`
	Passes [2]float64 `json:"passes_mm"`
	Key    string     `json:"key,omitempty"`
	Change string     `json:"change,omitempty"`
}

type lockEntry struct {
	At     [2]float64  `json:"at_mm"`
	Total  float64     `json:"total_mm"`
	Asked  float64     `json:"asked_mm"` // 0: the knife's own shape locks
	Draw   *[2]float64 `json:"draw_n"`   // null: locks by itself
	Strain [2]float64  `json:"strain"`
}

type holdEntry struct {
	Thickness float64        `json:"play_mm"`
	Width     float64        `json:"shrink_width_mm"`
	Contacts  []contactEntry `json:"contacts"`
	TapeStop  float64        `json:"tape_stop_mm"`
	TapeRun   float64        `json:"tape_run_mm"`
	TipGap    float64        `json:"tip_room_mm"`
	TipNeed   float64        `json:"tip_room_needed_mm"`
	Often     float64        `json:"strain_allowed"`
}

type contactEntry struct {
	At   [2]float64 `json:"at_mm"`
	Area float64    `json:"area_mm2"`
}

type heldEntry struct {
	Grams [2]float64  `json:"knife_g"` // without a handle that is not drawn
	Lock  [2]*float64 `json:"lock_n"`  // null: locks by itself
	Times [2]*float64 `json:"times"`   // its own weight; null: not known, or locks by itself
}

type bossEntry struct {
	Height float64    `json:"height_mm"`
	Gauge  float64    `json:"gauge_mm"`
	Taken  float64    `json:"sheet_taken_mm"`
	Top    [2]float64 `json:"top_mm"`
	Wall   [2]float64 `json:"wall_mm"`
	Foot   [2]float64 `json:"foot_mm"`
}

type waterEntry struct {
	Diameter float64 `json:"diameter_mm"`
	Head     float64 `json:"head_mm"`
}

func drawAnswerOf(variant string, hand measures.Hand, r *path.Report) drawAnswer {
	a := drawAnswer{
		Variant: variant, Hand: string(hand), Free: r.Free(), Filled: figure(r.Filled), Removed: figure(r.Removed),
		Binds: bindEntries(r.Binds), Rubs: bindEntries(r.Rubs), Without: bindEntries(r.Bare), Plates: []passageEntry{},
	}
	for i, b := range r.Binds {
		a.Binds[i].Key, a.Binds[i].Change = r.Advice(b)
	}
	if c := r.With.Centre; c != nil {
		at := point(*c)
		a.Arc = &at
	}
	if l := r.Lock; l != nil {
		a.Lock = &lockEntry{At: point(l.At), Total: figure(l.Total), Asked: figure(l.Asked), Strain: bracket(l.Strain)}
		if !math.IsInf(l.Draw.Clamped, 0) {
			pull := bracket(l.Draw)
			a.Lock.Draw = &pull
		}
	}
	h := r.Hold
	a.Hold = holdEntry{
		Thickness: figure(h.Thickness), Width: figure(h.Width), Contacts: []contactEntry{},
		TapeStop: figure(h.TapeStop), TapeRun: figure(h.TapeRun),
		TipGap: figure(h.TipGap), TipNeed: figure(h.TipNeed), Often: figure(h.Material.Often()),
	}
	for _, c := range h.Contacts {
		a.Hold.Contacts = append(a.Hold.Contacts, contactEntry{At: point(c.At), Area: figure(c.Area)})
	}
	a.Held = heldEntryOf(r.Held)
	if b := r.Boss; b != nil {
		a.Boss = &bossEntry{
			Height: figure(b.Height), Gauge: figure(b.Gauge), Taken: figure(b.Taken),
			Top: figures(b.Top), Wall: figures(b.Wall), Foot: figures(b.Foot),
		}
	}
	for _, p := range r.Plates {
		a.Plates = append(a.Plates, passageEntry{Boss: p.Boss.Name, Passes: p.Passes(), Spare: figure(p.Spare), At: point(p.At)})
	}
	if d := r.Drain; d != nil {
		a.Drain = &waterEntry{Diameter: figure(d.Diameter), Head: figure(d.Head)}
	}
	return a
}

func heldEntryOf(h path.Held) heldEntry {
	e := heldEntry{Grams: figures(h.Grams)}
	times := h.Times()
	for i := range 2 {
		if !math.IsInf(h.Lock[i], 0) {
			e.Lock[i] = new(figure(h.Lock[i]))
			if h.Known {
				e.Times[i] = new(figure(times[i]))
			}
		}
	}
	return e
}

// figures is a range, from the least to the most.
func figures(r [2]float64) [2]float64 { return [2]float64{figure(r[0]), figure(r[1])} }

// bracket is a range as [pinned, clamped].
func bracket(r path.Range) [2]float64 { return [2]float64{figure(r.Pinned), figure(r.Clamped)} }

func bindEntries(binds []path.Bind) []bindEntry {
	all := []bindEntry{}
	for _, b := range binds {
		all = append(all, bindEntry{
			Face: string(b.Face), Side: string(b.Side), At: point(b.At), Depth: figure(b.Depth), Area: figure(b.Area), Passes: point(b.Passes),
		})
	}
	return all
}

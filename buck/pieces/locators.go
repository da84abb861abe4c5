package pieces

import (
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// NewLocators lays the locator over the pieces of one face: its bosses, the ramps and the drain insert. It is one piece where
// that is no longer than the printer's bed: with a window for the drain insert, or without one, since the insert's slit
// sets it as well. What is still longer is cut in two. It has shorter hooks, or one, where others have no room. Its errors are
// Faults.
func NewLocators(bosses []*StandoffPiece, ramps []*RampPiece, d *DrainPiece) (parts []*LocatorPiece, err error) {
	for _, by := range hangings {
		if parts, err = hung(bosses, ramps, d, by); err == nil {
			return parts, nil
		}
	}
	return nil, err
}

// hung is the locator with hooks of one kind.
func hung(bosses []*StandoffPiece, ramps []*RampPiece, d *DrainPiece, by hanging) ([]*LocatorPiece, error) {
	bed := d.Knife.Spec.Whole.Bed
	l := newLocator(bosses, ramps, d)
	l.by = by
	if l.Plate.Size().X <= bed {
		return []*LocatorPiece{l}, l.hang(by.apart)
	}
	l = newLocator(bosses, ramps, nil)
	l.by = by
	if l.reach(l.Plate.Min.X+bed) == nil {
		return []*LocatorPiece{l}, nil
	}
	return l.halves(bed)
}

// newLocator is one without hooks. The drain insert may be nil.
func newLocator(bosses []*StandoffPiece, ramps []*RampPiece, d *DrainPiece) *LocatorPiece {
	k := bosses[0].Knife
	m := k.Spec.Locator
	l := &LocatorPiece{
		Knife: k, Clearance: m.Clearance, Fit: m.Fit, Wall: m.Wall, handle: k.Handle, Parts: 1,
		UnderZ: k.Spec.Blade.Thickness/2 + m.Fit,
	}
	l.HookZ, l.BridgeZ = l.UnderZ-m.Hook, l.UnderZ
	var feet []r2.Vec
	for _, s := range bosses {
		boss := newWindow(s.name(), s.FootLine())
		l.Windows, feet = append(l.Windows, boss), append(feet, boss.Foot...)
	}
	hole := boxOf(feet)
	if d != nil {
		l.Windows = append(l.Windows, newWindow("drain", d.FootLine()))
		l.Plate.Max.X = d.At(r2.Vec{X: d.From}).X + prong
	}
	for _, r := range ramps {
		if r.Grip {
			continue // the locator stops at the handle's front
		}
		w := newWindow(r.name(), r.FootLine())
		w.Under = true
		l.Windows = append(l.Windows, w)
		b := boxOf(w.Foot)
		hole.Max.X = max(hole.Max.X, b.Max.X)
		hole.Min.Y, hole.Max.Y = min(hole.Min.Y, b.Min.Y), max(hole.Max.Y, b.Max.Y)
		l.BridgeZ = max(l.BridgeZ, r.highest()+bridgeGap)
	}
	l.Plate.Max.X = max(l.Plate.Max.X, hole.Max.X+l.Clearance+frame)
	l.TopZ = l.BridgeZ + m.Thickness
	l.Plate.Min.Y = hole.Min.Y - l.Clearance - frame
	l.Plate.Max.Y = hole.Max.Y + l.Clearance + frame
	l.Plate.Min.X = l.front()
	if len(k.Plan.Handle) == 0 {
		l.Plate.Min.X += l.Fit // else the handle's outline keeps it off
	}
	return l
}

// reach makes the plate longer, up to an x, until two hooks have room: as far apart as a fifth of its length, or, where that
// is to be had nowhere, as near to each other as may be. Where there is no room at all the plate is left as it is.
func (l *LocatorPiece) reach(most float64) error {
	least, err := l.Plate, measures.Faultf("whole.bed", "the template is longer than %.4g mm", l.Knife.Spec.Whole.Bed)
	for _, share := range []float64{0.2, 0} {
		for l.Plate = least; l.Plate.Max.X <= most; l.Plate.Max.X++ {
			if err = l.hang(max(l.by.apart, share*l.Plate.Size().X)); err == nil {
				return nil
			}
		}
	}
	l.Plate = least
	return err
}

// halves is the locator cut in two, near its middle, each with hooks of its own. The part that is nearer to the tip lies
// against the other one, which stops at the handle's front.
func (l *LocatorPiece) halves(bed float64) ([]*LocatorPiece, error) {
	from, to := l.Plate.Min.X, l.Plate.Max.X
	middle := (from + to) / 2
	for off := 0.0; off < bed-(to-from)/2; off++ {
		for _, cut := range []float64{middle - off, middle + off} {
			handle, blade := *l, *l
			handle.Parts, blade.Parts, blade.Part = 2, 2, 1
			handle.Plate.Max.X, blade.Plate.Min.X = cut-l.Fit/2, cut+l.Fit/2
			if handle.hang(l.by.apart) == nil && blade.reach(cut+bed) == nil {
				return []*LocatorPiece{&handle, &blade}, nil
			}
		}
	}
	return nil, measures.Faultf("whole.bed", "the template for pieces over %.1f mm of blade fits on a bed of %.4g mm neither in one part nor in two with hooks each", to-from, bed)
}

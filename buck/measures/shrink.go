package measures

// Print is how the printer's plastic behaves.
type Print struct {
	ShrinkPercent float64 // linear, of a print as it cools, that nothing else makes up for
	BedChamfer    float64 // by which the rim of a glue face that lies on the bed is drawn in, at 45 degrees
}

// MadeUp is the factor by which something is made larger so that it has its measure after it shrank by a
// linear share in percent: 1 / (1 - s). 0.4 % gives 1.00402.
func MadeUp(percent float64) float64 { return 1 / (1 - percent/100) }

// ShrinkFactor is that of what the sheet is formed over.
func (s Sheet) ShrinkFactor() float64 { return MadeUp(s.ShrinkPercent) }

package mesh

// cell is a box on a grid over all boxes of a tree: its lower corner, rounded down, in the lowest 63 bits of one word, 20 for each
// axis and one above each that is 0, and its upper corner, rounded up, in those of the other, where that bit is 1. Boxes that meet
// still meet, and two subtractions tell it.
type cell struct{ low, high uint64 }

// The bits of a cell's words.
const (
	cellBits = 20
	cellTop  = 1<<cellBits - 1
	spare    = 1<<cellBits | 1<<(2*cellBits+1) | 1<<(3*cellBits+2) // above each axis
)

// meets tells whether two cells have a point in common: where a lower corner is greater than the upper one, the bit
// above is lent.
func (c *cell) meets(o *cell) bool { return (c.high-o.low)&(o.high-c.low)&spare == spare }

// celler puts boxes on the grid.
type celler struct {
	from  [3]float64
	scale [3]float64
}

func newCeller(all *box) celler {
	var c celler
	for k := range 3 {
		c.from[k] = float64(all[k])
		if span := float64(all[k+3]) - float64(all[k]); span > 0 {
			c.scale[k] = cellTop / span
		}
	}
	return c
}

// cell is the cell of a box, which is within all boxes.
func (c *celler) cell(b *box) cell {
	var out cell
	for k := range 3 {
		low := uint64(max(0, (float64(b[k])-c.from[k])*c.scale[k]))
		high := min(cellTop, uint64(max(0, (float64(b[k+3])-c.from[k])*c.scale[k]))+1)
		out.low |= min(low, cellTop) << (k * (cellBits + 1))
		out.high |= high << (k * (cellBits + 1))
	}
	out.high |= spare
	return out
}

package batch

// Pressed is when the last load of an order of all loads leaves the press.
func Pressed(p *Plan, order []int) float64 {
	return p.scheduler(p.Shop, p.copies).simulate(order).Pressed
}

// Within is the soonest time at which something can begin on one day.
func (h Hours) Within(t, minutes float64) float64 { return h.within(t, minutes) }

package formed

// Middle is how high the middle of the ball is when it is let down over the middle of cell (i, j)
// until it touches the map.
func (c *Closer) Middle(i, j int) float64 {
	at := c.rest(j/tile*c.wide + i/tile)
	if at.flat {
		return c.m.Z[j*c.m.NX+i] + c.radius
	}
	return -at.depth.z[at.depth.at(i, j)]
}

// Grid is that of the map.
func (c *Closer) Grid() Grid { return c.m.Grid }

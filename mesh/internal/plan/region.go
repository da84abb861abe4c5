package plan

import "slices"

// Regions numbers the parts of the rectangle that constraints separate: for each triangle the
// number of the part it is in. Number 0 is the outside, the part along the border; the others
// follow in the order of their first triangles. A line that does not close separates nothing. The list is the
// triangulation's own and holds until Regions is called again.
func (t *Triangulation) Regions() []int32 {
	list := slices.Grow(t.regions[:0], t.CountTriangles())
	for range t.CountTriangles() {
		list = append(list, -1)
	}
	t.regions = list
	if len(list) == 0 {
		return list
	}
	t.flood(list, t.out[0]/3, 0)
	count := int32(1)
	for i := range list {
		if list[i] < 0 {
			t.flood(list, int32(i), count)
			count++
		}
	}
	return list
}

// flood gives the number to the triangle and to all that can be reached from it.
func (t *Triangulation) flood(list []int32, tri, number int32) {
	list[tri] = number
	stack := append(t.chain[:0], tri)
	for len(stack) > 0 {
		tri = stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for h := 3 * tri; h < 3*tri+3; h++ {
			e := &t.edges[h]
			if e.src != free || e.twin < 0 || list[e.twin/3] >= 0 {
				continue
			}
			list[e.twin/3] = number
			stack = append(stack, e.twin/3)
		}
	}
	t.chain = stack
}

package mesh

// box is a box along the axes: lower x, y, z, upper x, y, z. Coordinates are rounded to float32.
// Rounding keeps order, so that boxes that meet still meet when rounded.
type box [6]float32

// meets tells whether two closed boxes have a point in common.
func (b *box) meets(o *box) bool {
	return b[0] <= o[3] && o[0] <= b[3] && b[1] <= o[4] && o[1] <= b[4] && b[2] <= o[5] && o[2] <= b[5]
}

// with is the smallest box that holds both.
func (b box) with(o *box) box {
	for k := range 3 {
		b[k], b[k+3] = min(b[k], o[k]), max(b[k+3], o[k+3])
	}
	return b
}

// leafSize is how many boxes a leaf of the tree holds.
const leafSize = 4

// tree is a binary tree of boxes over items, laid out depth first. Items are sorted along a Z-order
// curve through their centres (Morton, "A computer oriented geodetic data base", IBM 1966; from
// memory) and halved, so that it is built in the time of one sort and is the same on every run.
type tree struct {
	nodes []node
	items []int32
	boxes []box // of items, in their order

	cells     []cell // of items, in their order, see pack
	nodeCells []cell
}

// node is a box around a part of the tree. A leaf has count > 0 items from at; an inner node's left
// child follows it and its right child is at at.
type node struct {
	box
	at, count int32
}

// newTree sorts the items with their boxes into a tree. It takes the slices over.
func newTree(items []int32, boxes []box) *tree {
	if len(items) == 0 {
		return &tree{}
	}
	all := boxes[0]
	for i := range boxes {
		all = all.with(&boxes[i])
	}
	keys := make([]uint64, len(items))
	for i := range boxes {
		keys[i] = uint64(morton(&all, &boxes[i]))<<32 | uint64(i)
	}
	keys = sortedHigh(keys)
	t := &tree{
		nodes: make([]node, 0, 2*((len(items)+leafSize-1)/leafSize)), // all leaves but the last are full
		items: items, boxes: boxes,
	}
	t.order(keys)
	t.build(0, int32(len(items)))
	return t
}

// order puts the items where the lower 32 bits of the keys tell them from, round after round: each in its place, and what
// was there where that one came from.
func (t *tree) order(keys []uint64) {
	for first := range keys {
		for at := first; ; {
			from := int(uint32(keys[at]))
			keys[at] = uint64(at)
			if from == first {
				break
			}
			t.items[at], t.items[from] = t.items[from], t.items[at]
			t.boxes[at], t.boxes[from] = t.boxes[from], t.boxes[at]
			at = from
		}
	}
}

// morton is the place of a box's middle on the curve, 10 bits an axis.
func morton(all, b *box) uint32 {
	code := uint32(0)
	for k := range 3 {
		span := float64(all[k+3]) - float64(all[k])
		if span <= 0 {
			continue
		}
		f := (float64(b[k])/2 + float64(b[k+3])/2 - float64(all[k])) / span
		n := uint32(min(1023, max(0, f*1024)))
		n = (n | n<<16) & 0x030000ff
		n = (n | n<<8) & 0x0300f00f
		n = (n | n<<4) & 0x030c30c3
		n = (n | n<<2) & 0x09249249
		code |= n << k
	}
	return code
}

// sortedHigh sorts keys by their upper 32 bits, of which 30 are used, ten at a time, and leaves equal
// ones in their order. It gives the keys in one of two slices.
func sortedHigh(keys []uint64) []uint64 {
	const digit = 10
	other := make([]uint64, len(keys))
	for shift := 32; shift < 32+3*digit; shift += digit {
		var next [1 << digit]int32
		for _, k := range keys {
			next[k>>shift%(1<<digit)]++
		}
		sum := int32(0)
		for d, n := range next {
			next[d] = sum
			sum += n
		}
		for _, k := range keys {
			at := &next[k>>shift%(1<<digit)]
			other[*at] = k
			*at++
		}
		keys, other = other, keys
	}
	return keys
}

// build makes the node over items lo to hi and everything below it.
func (t *tree) build(lo, hi int32) int32 {
	n := int32(len(t.nodes))
	t.nodes = append(t.nodes, node{})
	if hi-lo <= leafSize {
		b := t.boxes[lo]
		for i := lo + 1; i < hi; i++ {
			b = b.with(&t.boxes[i])
		}
		t.nodes[n] = node{box: b, at: lo, count: hi - lo}
		return n
	}
	mid := lo + ((hi-lo)/2+leafSize-1)/leafSize*leafSize // whole leaves to the left
	left := t.build(lo, mid)
	right := t.build(mid, hi)
	t.nodes[n] = node{box: t.nodes[left].with(&t.nodes[right].box), at: right}
	return n
}

// pack makes the cells, for pairs.
func (t *tree) pack() {
	if len(t.nodes) == 0 {
		return
	}
	on := newCeller(&t.nodes[0].box)
	all := make([]cell, len(t.boxes)+len(t.nodes))
	t.cells, t.nodeCells = all[:len(t.boxes)], all[len(t.boxes):]
	for i := range t.boxes {
		t.cells[i] = on.cell(&t.boxes[i])
	}
	for i := range t.nodes {
		t.nodeCells[i] = on.cell(&t.nodes[i].box)
	}
}

// nodePair is two nodes whose items are to be paired; the same twice for pairs within one.
type nodePair struct{ a, b int32 }

// pairs calls visit for every two different items whose boxes meet, among those of a pair of nodes,
// until visit returns false.
func (t *tree) pairs(from nodePair, visit func(i, j int32) bool) {
	stack := append(make([]nodePair, 0, 128), from)
	for len(stack) > 0 {
		p := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		a, b := &t.nodes[p.a], &t.nodes[p.b]
		if a.count > 0 && b.count > 0 {
			if !t.leafPairs(p, visit) {
				return
			}
			continue
		}
		stack = t.split(p, stack)
	}
}

// split puts the pairs of children that meet on the stack, for a pair that is not two leaves.
func (t *tree) split(p nodePair, stack []nodePair) []nodePair {
	a, b := &t.nodes[p.a], &t.nodes[p.b]
	if p.a == p.b {
		l, r := p.a+1, a.at
		stack = append(stack, nodePair{r, r}, nodePair{l, l})
		if t.nodeCells[l].meets(&t.nodeCells[r]) {
			stack = append(stack, nodePair{l, r})
		}
		return stack
	}
	if a.count > 0 || (b.count == 0 && b.size() > a.size()) {
		p, a = nodePair{p.b, p.a}, b // split the larger
	}
	for _, child := range [2]int32{a.at, p.a + 1} {
		if t.nodeCells[child].meets(&t.nodeCells[p.b]) {
			stack = append(stack, nodePair{child, p.b})
		}
	}
	return stack
}

// size is half the girth of a box: what is split first.
func (b *box) size() float32 { return b[3] - b[0] + b[4] - b[1] + b[5] - b[2] }

// leafPairs compares all items of two leaves, or of one with each other. It tells whether to go on.
func (t *tree) leafPairs(p nodePair, visit func(i, j int32) bool) bool {
	a, b := &t.nodes[p.a], &t.nodes[p.b]
	others, items, around := t.cells[b.at:b.at+b.count], t.items[b.at:b.at+b.count], &t.nodeCells[p.b]
	for i := range a.count {
		x, first := &t.cells[a.at+i], int32(0)
		if p.a == p.b {
			first = i + 1
		} else if !x.meets(around) {
			continue
		}
		for j := int(first); j < len(others); j++ {
			if x.meets(&others[j]) && !visit(t.items[a.at+i], items[j]) {
				return false
			}
		}
	}
	return true
}

// tasks splits all pairs into about n parts, in an order that depends on the tree alone.
func (t *tree) tasks(n int) []nodePair {
	if len(t.nodes) == 0 {
		return nil
	}
	list, next := []nodePair{{}}, []nodePair(nil)
	for len(list) < n {
		next = next[:0]
		for _, p := range list {
			if t.nodes[p.a].count > 0 && t.nodes[p.b].count > 0 {
				next = append(next, p)
				continue
			}
			next = t.split(p, next)
		}
		if len(next) == len(list) {
			break
		}
		list, next = next, list
	}
	return list
}

// meeting calls visit for every item whose box meets b, until visit returns false.
func (t *tree) meeting(b *box, visit func(i int32) bool) {
	if len(t.nodes) == 0 {
		return
	}
	stack := append(make([]int32, 0, 64), 0)
	for len(stack) > 0 {
		at := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		n := &t.nodes[at]
		switch {
		case !n.meets(b):
		case n.count == 0:
			stack = append(stack, n.at, at+1)
		default:
			for i := n.at; i < n.at+n.count; i++ {
				if t.boxes[i].meets(b) && !visit(t.items[i]) {
					return
				}
			}
		}
	}
}

package relief

// groups are lists, one for each of the numbers from 0, in one piece of memory.
type groups[T any] struct {
	all        []T
	first, end []int32 // of each list in all
}

// at is list i.
func (g groups[T]) at(i int) []T { return g.all[g.first[i]:g.end[i]] }

// grouped are n lists of what each adds to them. It is called twice: to count and to add.
func grouped[T any](n int, each func(add func(i int, x T))) groups[T] {
	room := make([]int32, 2*n)
	g := groups[T]{first: room[:n], end: room[n:]}
	sum := int32(0)
	each(func(i int, _ T) { g.end[i]++; sum++ })
	g.all = make([]T, sum)
	sum = 0
	for i, count := range g.end {
		g.first[i], g.end[i] = sum, sum
		sum += count
	}
	each(func(i int, x T) { g.all[g.end[i]] = x; g.end[i]++ })
	return g
}

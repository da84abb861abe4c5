package flow

import (
	"cmp"
	"slices"
)

// Johnson is an order with the least [Makespan]: tasks that are shorter on the first machine, by
// rising time there, then the others by falling time on the second (Johnson 1954). Equal tasks keep
// the order in which they are given.
func Johnson(tasks []Task) []int {
	var early, late []int
	for n, t := range tasks {
		if t.First <= t.Second {
			early = append(early, n)
		} else {
			late = append(late, n)
		}
	}
	slices.SortStableFunc(early, func(a, b int) int { return cmp.Compare(tasks[a].First, tasks[b].First) })
	slices.SortStableFunc(late, func(a, b int) int { return cmp.Compare(tasks[b].Second, tasks[a].Second) })
	return append(early, late...)
}

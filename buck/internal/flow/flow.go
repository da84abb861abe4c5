// Package flow orders tasks that go through two machines, one after the other, each machine taking
// one task at a time: a sheet through the heat and then the press.
//
// Times are minutes; any other unit serves as well. An order is the tasks' indices in the order in
// which both machines take them, which loses nothing with two machines (Johnson, "Optimal Two- and
// Three-Stage Production Schedules with Setup Times Included", Naval Research Logistics Quarterly 1,
// 1954). [NoWait] gives the order that is done soonest where a task must not wait between the machines,
// as a hot sheet must not.
package flow

// Task is one thing to be done: so long on the first machine, then so long on the second. Times
// are finite and not negative.
type Task struct{ First, Second float64 }

// Starts are the times at which the tasks of the order begin on the first machine where none may
// wait between the machines: each as soon as it can be, so that it meets a free second machine.
func Starts(tasks []Task, order []int) []float64 {
	starts := make([]float64, len(order))
	free, busy := 0.0, 0.0 // when the first and the second machine are free
	for i, n := range order {
		t := tasks[n]
		starts[i] = max(free, busy-t.First)
		free = starts[i] + t.First
		busy = free + t.Second
	}
	return starts
}

// NoWaitMakespan is when the last task of the order is done, where none may wait.
func NoWaitMakespan(tasks []Task, order []int) float64 {
	if len(order) == 0 {
		return 0
	}
	last := len(order) - 1
	t := tasks[order[last]]
	return Starts(tasks, order)[last] + t.First + t.Second
}

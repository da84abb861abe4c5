package flow_test

import (
	"fmt"

	"formbuck/buck/internal/flow"
)

// Three pairs of sheets, each heated and then pressed at once.
func ExampleNoWait() {
	loads := []flow.Task{{First: 4, Second: 15}, {First: 3, Second: 12}, {First: 5, Second: 4}}
	order := flow.NoWait(loads)
	fmt.Println(order, flow.NoWaitMakespan(loads, order), "minutes")
	// Output: [1 0 2] 34 minutes
}

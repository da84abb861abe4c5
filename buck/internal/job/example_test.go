package job_test

import (
	"context"
	"fmt"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
)

// What a plain sheath needs, which has no clip and so no boss.
func ExampleMake() {
	knife, err := pieces.NewBuck(bucktest.Hunter(), bucktest.Spec())
	if err != nil {
		fmt.Println(err)
		return
	}
	set, err := job.Make(context.Background(), knife, job.Request{Hands: []measures.Hand{measures.Plain}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range set.Pieces {
		fmt.Printf("%s: %s\n", p.Name, p.Governed)
	}
	// Output:
	// ramp-any: frees 1.60 mm at the edge
	// drain-any: Ø 5.00 mm: as drain.diameter
}

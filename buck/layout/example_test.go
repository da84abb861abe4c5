package layout_test

import (
	"fmt"

	"formbuck/buck/bucktest"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
)

func Example() {
	knife, err := pieces.NewBuck(bucktest.Strip(), bucktest.Spec())
	if err != nil {
		fmt.Println(err)
		return
	}
	sheath, err := layout.New(knife, []measures.Hand{measures.Plain})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, run := range sheath.Runs {
		fmt.Printf("%s: %d eyelets, %.1f mm apart\n", run.Side, run.Count, run.Pitch)
	}
	fmt.Printf("the first is %.3f mm from the knife: %s\n", sheath.Eyelets[0].Need, sheath.Eyelets[0].Governs)
	// Output:
	// edge: 4 eyelets, 28.0 mm apart
	// spine: 5 eyelets, 30.4 mm apart
	// the first is 7.175 mm from the knife: guard of the edge
}

package nearest_test

import (
	"fmt"

	"formbuck/buck/internal/nearest"
)

func ExampleTo() {
	names := []string{"gauge", "quantity", "due"}
	fmt.Printf("%q %q %q\n", nearest.To("gage", names), nearest.To("Quantiyt", names), nearest.To("customer", names))
	// Output: "gauge" "quantity" ""
}

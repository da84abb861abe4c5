package page_test

import (
	"fmt"

	"formbuck/buck/internal/page"
)

func ExampleRow() {
	for _, cell := range page.Row("boss", "5502.7", "3 mm2") {
		fmt.Println(cell.Text, cell.Number)
	}
	// Output:
	// boss false
	// 5502.7 true
	// 3 mm² false
}

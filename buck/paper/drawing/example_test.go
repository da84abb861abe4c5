package drawing_test

import (
	"bytes"
	"fmt"
	"strings"

	"formbuck/buck/paper/drawing"

	"gonum.org/v1/gonum/spatial/r2"
)

// A plate with its length, as SVG that prints 1:1.
func ExampleDrawing_SVG() {
	d := drawing.New("plate", r2.Vec{X: 70, Y: 40})
	d.Box(drawing.Pen{Width: 0.35}, r2.Box{Min: r2.Vec{X: 10, Y: 10}, Max: r2.Vec{X: 52, Y: 22}})
	d.Dimension(r2.Vec{X: 10, Y: 22}, r2.Vec{X: 52, Y: 22}, 6, "")
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		fmt.Println(err)
	}
	first, _, _ := strings.Cut(b.String(), "\n")
	fmt.Println(first)
	fmt.Println(strings.Contains(b.String(), ">42 mm</text>"))
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" width="70mm" height="40mm" viewBox="0 0 70 40">
	// true
}

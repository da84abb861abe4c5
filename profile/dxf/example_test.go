package dxf_test

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/profile/dxf"
)

func Example() {
	var text strings.Builder
	err := dxf.Encode(&text, &dxf.Drawing{
		Units:    dxf.Millimetres,
		Layers:   []dxf.Layer{{Name: "HOLES", Colour: 1}},
		Entities: []dxf.Entity{{Kind: "CIRCLE", Layer: "HOLES", Shape: &dxf.Circle{Centre: r3.Vec{X: 10, Y: 5}, Radius: 3.175}}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := dxf.Decode(strings.NewReader(text.String()), "holes.dxf")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range d.Entities {
		fmt.Println(d.Units, e.Kind, e.Layer, *e.Shape.(*dxf.Circle))
	}
	// Output: mm CIRCLE HOLES {{10 5 0} 3.175}
}

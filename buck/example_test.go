package buck_test

import (
	"context"
	"fmt"

	"formbuck/buck"
	"formbuck/buck/variant"
	"formbuck/profile/dxf"
	"formbuck/testdata"

	"gonum.org/v1/gonum/spatial/r3"
)

// From a variant file to the bytes of a print file.
func ExampleOpen() {
	design, err := buck.Open(testdata.FS, "thistle.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	made, err := design.Make(context.Background(), buck.Options{Pieces: []buck.PieceKind{buck.Drain}})
	if err != nil {
		fmt.Println(err)
		return
	}
	stl := made.Files.Named("thistle-drain-any.stl")
	fmt.Printf("%d bytes, %.0f mm3\n", len(stl), made.Pieces[0].Volume)
	// Output:
	// 29684 bytes, 825 mm3
}

// A knife without any file: measures that begin with the defaults, and an outline of a program's own.
func ExampleNew() {
	spec := variant.Default()
	spec.Name, spec.Blade.Thickness, spec.Handle.Front, spec.Blade.Plunge = "wren", 2.5, 92, 80
	knife := &dxf.Polyline{Closed: true, Vertices: []dxf.Vertex{
		{X: 0, Y: 0}, {X: 90, Y: 0}, {X: 150, Y: 2, Bulge: 0.12}, {X: 172, Y: 16, Bulge: 0.05}, {X: 130, Y: 22}, {X: 0, Y: 22, Bulge: 0.4},
	}}
	edge := &dxf.Line{A: r3.Vec{X: 100, Y: -2}, B: r3.Vec{X: 140, Y: -2}}
	design, err := buck.New(spec, &dxf.Drawing{Units: dxf.Millimetres, Entities: []dxf.Entity{
		{Kind: "LWPOLYLINE", Layer: "OUTLINE", Shape: knife}, {Kind: "LINE", Layer: "EDGE", Shape: edge},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	draw, err := design.Draw(buck.DrawOptions{Step: 0.3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(design.Name(), draw.Report.Verdict())
	// Output:
	// wren draws freely
}

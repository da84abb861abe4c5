package picture_test

import (
	"image"
	"testing"

	"github.com/fogleman/fauxgl"

	"formbuck/buck/picture"
)

// BenchmarkDraw draws a whole picture of a mesh of 20 000 triangles with title, caption and sizes.
func BenchmarkDraw(b *testing.B) {
	parts := []picture.Part{{Name: "torus", Mesh: torus(100, 20, 8)}}
	o := picture.Options{Title: "torus", Caption: "20 000 triangles\nØ 56 mm"}
	for b.Loop() {
		if _, err := picture.Draw(parts, o); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkViews draws three panes of a boss.
func BenchmarkViews(b *testing.B) {
	parts := []picture.Part{{Name: "standoff", Mesh: boss(2, 0, 24)}}
	for b.Loop() {
		if _, err := picture.Views(parts, picture.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRasterisers draws the torus of BenchmarkDraw with our whole pipeline (edges, hidden
// lines, shadow, writing) and with fauxgl at the same four samples a pixel, where only the shaded
// surface is drawn and is not even brought down to pixels. Run it with -cpu 1.
func BenchmarkRasterisers(b *testing.B) {
	m := torus(100, 20, 8)
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			if _, err := picture.Draw([]picture.Part{{Mesh: m}}, picture.Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("fauxgl", func(b *testing.B) {
		var ts []*fauxgl.Triangle
		for _, t := range m.Triangles {
			var p [3]fauxgl.Vector
			for k, i := range t {
				v := m.Vertices[i]
				p[k] = fauxgl.V(v.X, v.Y, v.Z)
			}
			ts = append(ts, fauxgl.NewTriangleForPoints(p[0], p[1], p[2]))
		}
		for b.Loop() {
			g := fauxgl.NewTriangleMesh(ts)
			g.SmoothNormalsThreshold(fauxgl.Radians(22))
			eye := fauxgl.V(33, -76, 56)
			view := fauxgl.LookAt(eye, fauxgl.Vector{}, fauxgl.V(0, 0, 1)).Orthographic(-42, 42, -31.5, 31.5, 1, 300)
			c := fauxgl.NewContext(2400, 1800)
			c.ClearColorBufferWith(fauxgl.White)
			c.Shader = fauxgl.NewPhongShader(view, eye.Normalize(), eye)
			c.DrawMesh(g)
			if c.Image().Bounds() != image.Rect(0, 0, 2400, 1800) {
				b.Fatal("no picture")
			}
		}
	})
}

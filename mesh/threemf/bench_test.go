package threemf_test

import (
	"bytes"
	"io"
	"testing"

	"github.com/hpinc/go3mf"

	"formbuck/mesh/meshtest"
	"formbuck/mesh/threemf"
)

// BenchmarkMillion reads and writes a million triangles, and reads them by go3mf beside it.
func BenchmarkMillion(b *testing.B) {
	p := &threemf.Package{Objects: []threemf.Object{{Name: "ring", Mesh: meshtest.Torus(60, 20, 710, 710)}}}
	data := encoded(b, p)
	b.Run("write", func(b *testing.B) {
		for b.Loop() {
			if err := threemf.Encode(io.Discard, p); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			if f := decoded(b, data); len(f.Items[0].Mesh.Triangles) != 1008200 {
				b.Fatal("triangles are missing")
			}
		}
	})
	b.Run("read-go3mf", func(b *testing.B) {
		for b.Loop() {
			var m go3mf.Model
			if err := go3mf.NewDecoder(bytes.NewReader(data), int64(len(data))).Decode(&m); err != nil || len(m.Resources.Objects[0].Mesh.Triangles.Triangle) != 1008200 {
				b.Fatal(err)
			}
		}
	})
}

package meshtest_test

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

// judge is a test that only counts how often it was failed.
type judge struct {
	testing.TB
	failed int
}

func (j *judge) Helper()               {}
func (j *judge) Errorf(string, ...any) { j.failed++ }

func TestOracleFailsWhatIsWrong(t *testing.T) {
	cube := meshtest.Box(r3.NewBox(0, 0, 0, 2, 2, 2))
	open := &mesh.Mesh{Vertices: cube.Vertices, Triangles: cube.Triangles[1:]}
	thin := meshtest.Box(r3.NewBox(0, 0, 0, 2, 2, 3.2e-5)) // snaps to 3e-5
	for name, tc := range map[string]struct {
		check  func(t testing.TB)
		failed int
	}{
		"clean":         {func(t testing.TB) { meshtest.Clean(t, cube) }, 0},
		"thin":          {func(t testing.TB) { meshtest.Clean(t, thin) }, 0},
		"open":          {func(t testing.TB) { meshtest.Clean(t, open) }, 1},
		"volume":        {func(t testing.TB) { meshtest.Volume(t, cube, 8, 0) }, 0},
		"wrong volume":  {func(t testing.TB) { meshtest.Volume(t, cube, 8.1, 0.09) }, 1},
		"no number":     {func(t testing.TB) { meshtest.Volume(t, cube.Moved(r3.Scale(1e308, r3.Vec{X: 10})), 8, 1) }, 1},
		"area":          {func(t testing.TB) { meshtest.Area(t, cube, 24, 0) }, 0},
		"wrong area":    {func(t testing.TB) { meshtest.Area(t, open, 24, 1) }, 1},
		"bounds":        {func(t testing.TB) { meshtest.Bounds(t, cube, r3.NewBox(0, 0, 0, 2, 2, 2), 0) }, 0},
		"wrong bounds":  {func(t testing.TB) { meshtest.Bounds(t, cube, r3.NewBox(0, 0, 1, 2, 2.5, 2), 0.1) }, 2},
		"genus":         {func(t testing.TB) { meshtest.Genus(t, cube, 0) }, 0},
		"wrong genus":   {func(t testing.TB) { meshtest.Genus(t, cube, 1) }, 1},
		"wrong shells":  {func(t testing.TB) { meshtest.Genus(t, cube, 0, 0) }, 1},
		"genus of open": {func(t testing.TB) { meshtest.Genus(t, open, 0) }, 1},
	} {
		j := &judge{}
		if tc.check(j); j.failed != tc.failed {
			t.Errorf("%s: failed %d times, want %d", name, j.failed, tc.failed)
		}
	}
}

func ExampleFrustum() {
	cone := meshtest.Frustum(3, 0, 2, 360)
	fmt.Printf("%d triangles, %.3f mm3\n", len(cone.Triangles), cone.Volume())
	// Output: 720 triangles, 18.849 mm3
}

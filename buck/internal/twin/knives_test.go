package twin_test

import (
	"sync"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/pieces"
	"formbuck/mesh"
)

// knives are the test knife and the demo knives, by name, the same ones for all who ask.
func everyKnife(t testing.TB) map[string]*pieces.Buck {
	t.Helper()
	all := map[string]*pieces.Buck{"hunter": hunter(t)}
	if raced {
		return all
	}
	for _, name := range bucktest.Demos() {
		v, plan := bucktest.Demo(t, name)
		v.Spec.Ramp.Lock = 0 // a twin has no pocket for one
		all[name] = bucktest.Knife(t, plan, v.Spec)
	}
	return all
}

func hunter(t testing.TB) *pieces.Buck {
	t.Helper()
	return known(t, "hunter", func() *pieces.Buck { return bucktest.Knife(t, bucktest.Hunter(), bucktest.Spec()) })
}

// made are the knives that tests have in common, their pieces, and the ramps' meshes within the usual tolerance: all of it
// made once, and not to be changed.
var made struct {
	sync.Mutex
	knives map[string]*pieces.Buck
	meshes map[*pieces.RampPiece]func() (*mesh.Mesh, error)
	bodies map[*pieces.Buck][]piece
}

// known is the knife of a name, made where it is first asked for.
func known(t testing.TB, name string, make func() *pieces.Buck) *pieces.Buck {
	t.Helper()
	made.Lock()
	defer made.Unlock()
	if made.knives == nil {
		made.knives = map[string]*pieces.Buck{}
	}
	if made.knives[name] == nil {
		made.knives[name] = make()
	}
	return made.knives[name]
}

// rampSolid is a ramp's mesh within the usual tolerance.
func rampSolid(r *pieces.RampPiece) (*mesh.Mesh, error) {
	made.Lock()
	if made.meshes == nil {
		made.meshes = map[*pieces.RampPiece]func() (*mesh.Mesh, error){}
	}
	once := made.meshes[r]
	if once == nil {
		once = sync.OnceValues(func() (*mesh.Mesh, error) { return solid.Ramp(r, solid.Tolerance) })
		made.meshes[r] = once
	}
	made.Unlock()
	return once()
}

package job_test

import (
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh/meshtest"
	"formbuck/testdata/size"
)

// locators are those of a knife for the left hand.
func locators(t *testing.T, k *pieces.Buck) (*job.Set, []*job.Piece) {
	t.Helper()
	set := makeSet(t, k, job.Request{Kinds: []job.Kind{job.Locator}, Hands: []measures.Hand{measures.Left}})
	return set, set.Pieces
}

// TestLocatorOnTheBed: where the template would be longer than the bed for the sake of the drain insert's window alone, it goes
// without, is in one piece and is no longer than the bed.
func TestLocatorOnTheBed(t *testing.T) {
	size.Long(t)
	k := bucktest.Knife(t, bucktest.Camp(), bucktest.LongSpec("camp"))
	set, all := locators(t, k)
	if len(all) != 1 {
		t.Fatalf("%d pieces: %v", len(all), set.Warnings)
	}
	meshtest.Clean(t, all[0].Mesh)
	if long := all[0].Mesh.Bounds().Size().X; long > k.Spec.Whole.Bed || long < 150 {
		t.Errorf("%.1f mm long on a bed of %g", long, k.Spec.Whole.Bed)
	}
}

// TestLocatorInTwo: a template that is too long for the bed even so is in two parts, named as those of a whole buck. Each is one
// body no longer than the bed and says what it lies against; the gap between them is the fit.
func TestLocatorInTwo(t *testing.T) {
	size.Long(t)
	spec := bucktest.LongSpec("chef")
	spec.Whole.Bed = 110
	set, all := locators(t, bucktest.Knife(t, bucktest.Chef(), spec))
	if len(all) != 2 || all[0].Name != "locator-left-handle" || all[1].Name != "locator-left-blade" {
		t.Fatalf("%v: %v", names(set), set.Warnings)
	}
	for i, p := range all {
		meshtest.Clean(t, p.Mesh)
		if long := p.Mesh.Bounds().Size().X; long > 110 || len(p.Mesh.Shells()) != 1 {
			t.Errorf("%s: %.1f mm long, in %d bodies", p.Name, long, len(p.Mesh.Shells()))
		}
		hooks := p.Mesh.Bounds().Max.Z - p.Mesh.Bounds().Min.Z
		if want := []string{"the handle's front", "the other part"}[i]; !strings.Contains(strings.Join(p.Measures, "\n"), want) || hooks < spec.Locator.Thickness+spec.Locator.Hook-1e-3 {
			t.Errorf("%s: %q, %.2f mm high", p.Name, p.Measures, hooks)
		}
	}
	if gap := all[1].Mesh.Bounds().Min.X - all[0].Mesh.Bounds().Max.X; math.Abs(gap-spec.Locator.Fit) > 1e-3 {
		t.Errorf("the parts lie %.4f mm apart, want %g", gap, spec.Locator.Fit)
	}
	spec.Whole.Bed = 40
	set, all = locators(t, bucktest.Knife(t, bucktest.Chef(), spec))
	if len(all) > 0 || len(set.Warnings) > 0 || !strings.Contains(set.NoLocator, "bed of 40 mm") {
		t.Errorf("on a bed of 40 mm: %v, %q, %q", names(set), set.NoLocator, set.Warnings)
	}
}

package job_test

import (
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
)

// TestCarryTurnsFaces: carried with the edge to the front, the standoff of the right hand lies where that of the left hand lies
// with the edge to the rear, and so do its posts.
func TestCarryTurnsFaces(t *testing.T) {
	v, plan := bucktest.Demo(t, "thistle")
	spec := v.Spec
	spec.Standoff.Mark = "no"
	request := job.Request{Kinds: []job.Kind{job.Standoff}, Hands: []measures.Hand{measures.Right}}
	hip := makeSet(t, bucktest.Knife(t, plan, spec), job.Request{Kinds: request.Kinds, Hands: []measures.Hand{measures.Left}}).Pieces[0]
	spec.Carry = measures.Forward
	set := makeSet(t, bucktest.Knife(t, plan, spec), request)
	if len(set.Pieces) != 1 {
		t.Fatalf("%d pieces", len(set.Pieces))
	}
	p := set.Pieces[0]
	if p.Hand != "right" || p.Face != measures.RightFace || !p.Serves(measures.Right) || !p.Serves(measures.Both) || p.Serves(measures.Left) {
		t.Errorf("%s, on the %s face", p.Hand, p.Face)
	}
	if p.Mesh.Bounds() != hip.Mesh.Bounds() {
		t.Errorf("%v, and the left hand's on the hip %v", p.Mesh.Bounds(), hip.Mesh.Bounds())
	}
}

package measures_test

import (
	"slices"
	"testing"

	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestCarry finds the face that looks to the body from how knife and wearer lie in the world: x forward, y to the wearer's
// left, z up, which is right-handed as the knife's frame is.
func TestCarry(t *testing.T) {
	forward, left, up := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	opposite := func(v r3.Vec) r3.Vec { return r3.Scale(-1, v) }
	for _, hand := range []measures.Hand{measures.Right, measures.Left} {
		side := left // of the hand
		if hand == measures.Right {
			side = opposite(left)
		}
		for carry, lies := range map[measures.Carry]struct{ tip, spine, body r3.Vec }{
			measures.Hip:        {opposite(up), forward, opposite(side)},
			measures.Forward:    {opposite(up), opposite(forward), opposite(side)},
			measures.Horizontal: {opposite(side), up, opposite(forward)},
			measures.Behind:     {opposite(side), up, forward},
		} {
			want := measures.LeftFace
			if r3.Dot(r3.Cross(lies.tip, lies.spine), lies.body) > 0 { // z, out of the right face
				want = measures.RightFace
			}
			if got := carry.Faces(hand); len(got) != 1 || got[0] != want {
				t.Errorf("%s, %s hand: %v, and the %s face looks to the body", carry, hand, got, want)
			}
			if got := carry.Hand(want); got != hand {
				t.Errorf("%s, %s face: %s hand", carry, want, got)
			}
			if (measures.Spec{Carry: carry}).Faces(hand)[0] != want {
				t.Errorf("%s: the variant has another face", carry)
			}
		}
	}
	for _, carry := range append(measures.Carries(), "") {
		if !slices.Equal(carry.Faces(measures.Both), measures.BothFaces()) || len(carry.Faces(measures.Plain)) > 0 {
			t.Errorf("%s: %v and %v", carry, carry.Faces(measures.Both), carry.Faces(measures.Plain))
		}
	}
}

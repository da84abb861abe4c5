package picture_test

import (
	"errors"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/buck/picture"
)

// TestSeen asks which marks on a block of 20 x 14 x 9, about the z axis from z = 0, are seen: on faces that look at the eye
// and on all edges of these, beside the block, and no others.
func TestSeen(t *testing.T) {
	marks := map[r3.Vec]bool{ // from above the edge: top, near side and tip side are seen
		{Z: 9}: true, {Y: -7, Z: 4}: true, {X: 10, Z: 4}: true, {X: 10, Y: 7, Z: 9}: true, {X: -10, Y: -7}: true, {X: 10, Y: 7}: true,
		{}: false, {Z: 4.5}: false, {Y: 7, Z: 4}: false, {X: -10, Z: 4}: false, {X: -10, Y: 7}: false, {X: 3, Y: 7, Z: 1}: false,
		{X: 30, Y: 40}: true, {Y: 20}: true, {Y: 14}: false, {X: 1, Y: 1, Z: 8.9}: true,
	}
	block := []picture.Part{{Mesh: cube(20, 14, 9).Moved(r3.Vec{X: -10, Y: -7})}}
	turned := picture.View{From: r3.Scale(-1, picture.ThreeQuarter().From), Up: r3.Vec{Z: 1}}
	for at, want := range marks { // and its opposite, from the other side
		opposite := r3.Vec{X: -at.X, Y: -at.Y, Z: 9 - at.Z}
		o := picture.Options{Marks: []picture.Mark{{At: at}, {At: opposite}}}
		seen, err := picture.Seen(block, o, picture.ThreeQuarter(), turned)
		if err != nil || len(seen) != 2 || seen[0][0] != want || seen[1][1] != want {
			t.Errorf("%v: seen %v, %v, want %v", at, seen, err, want)
		}
	}
	var e *picture.Error
	if _, err := picture.Seen(nil, picture.Options{}, turned); !errors.As(err, &e) || e.Fault != picture.NoParts {
		t.Errorf("no parts: %v", err)
	}
}

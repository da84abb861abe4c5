package measures_test

import (
	"testing"

	"formbuck/buck/measures"
)

func TestTold(t *testing.T) {
	for _, tt := range []struct {
		edges      int
		text, want string
	}{
		{1, "Y from the edge to the spine", "Y from the edge to the spine"},
		{0, "spine", "spine"},
		{2, "Y from the edge to the spine", "Y from the first edge to the second edge"},
		{2, "both edges", "both edges"},
		{2, "the spine's side", "the second edge's side"},
		{2, "handle, towards the edge", "handle, towards the first edge"},
	} {
		if got := (measures.Blade{Edges: tt.edges}).Told(tt.text); got != tt.want {
			t.Errorf("%d edges, %q: %q, want %q", tt.edges, tt.text, got, tt.want)
		}
	}
}

package layout_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"formbuck/buck/paper/drawing"
)

// TestPlan: the sheath's plan says where every hole is and how large the sheath is.
func TestPlan(t *testing.T) {
	s := demo(t, "thistle", nil)
	d := s.Plan()
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	size := s.Trim.Bounds().Size()
	want := []string{drawing.Millimetres(size.X), drawing.Millimetres(size.Y), drawing.Millimetres(s.MouthWidth()) + " straight"}
	for _, e := range s.Eyelets {
		want = append(want, fmt.Sprintf("%.2f", e.At.X), fmt.Sprintf("%.2f", e.At.Y))
	}
	for _, p := range s.Posts {
		want = append(want, "post, "+string(p.Hand)+" hand", fmt.Sprintf("%.2f", p.At.X))
	}
	for _, text := range want {
		if !strings.Contains(b.String(), ">"+text+"</text>") {
			t.Errorf("%q is not on the plan", text)
		}
	}
}

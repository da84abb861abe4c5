package paper_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/paper"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
)

func made(t testing.TB, name string, hand measures.Hand) path.Buck {
	t.Helper()
	b, err := path.Made(bucktest.DemoKnife(t, name), hand)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func studied(b path.Buck) *path.Study { return path.New(b, path.Options{Step: 0.2}) }

// TestLook writes drawings of the demo knives where DRAWINGS says, to be looked at.
func TestLook(t *testing.T) {
	dir := os.Getenv("DRAWINGS")
	if dir == "" {
		t.Skip("DRAWINGS names no folder")
	}
	for _, name := range bucktest.Demos() {
		d := paper.Face(studied(made(t, name, measures.Right)), measures.LeftFace, name+": left face, right-hand carry")
		var b bytes.Buffer
		if err := d.PNG(&b, 100); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+".png"), b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		b.Reset()
		if err := drawing.PDF(&b, name, append(d.Tiles(drawing.A4), paper.SetUp(made(t, name, measures.Right), nil, measures.Right, drawing.A4, paper.Told{})...)...); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+".pdf"), b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

package stl_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"formbuck/mesh/meshtest"
	"formbuck/mesh/stl"
	"formbuck/testdata/hostile"
)

// readBounded reads a file and passes on what is wrong with it, which has to be an *Error of one line.
func readBounded(t *testing.T) func([]byte) error {
	return func(data []byte) error {
		_, err := stl.Decode(bytes.NewReader(data))
		var e *stl.Error
		if err != nil && (!errors.As(err, &e) || strings.ContainsAny(err.Error(), "\n\r\x1b")) {
			t.Errorf("%q is no *stl.Error of one line", err)
		}
		return err
	}
}

const facet = "facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\n"

// TestHostile reads damaged files of both forms, and a text of 100 MB without an end.
func TestHostile(t *testing.T) {
	var binary bytes.Buffer
	if err := stl.Encode(&binary, meshtest.Tetrahedron(5, 4, 3), "a"); err != nil {
		t.Fatal(err)
	}
	hostile.Run(t, 1000, []string{"solid a\n" + strings.Repeat(facet, 4) + "endsolid a\n", binary.String()}, readBounded(t))
}

// TestTextWithoutEnd holds texts that never end to what reading may take.
func TestTextWithoutEnd(t *testing.T) {
	size := 100 << 20
	if testing.Short() {
		size = 5 << 20
	}
	for name, one := range map[string]string{"facets": facet, "words": "facet ", "blanks": " ", "one word": "x", "lines": "\n", "solids": "solid a\n"} {
		text := "solid a\n" + strings.Repeat(one, size/len(one))
		if err := hostile.Bounded(t, name, []byte(text), readBounded(t)); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

package job_test

import (
	"errors"
	"strings"
	"testing"

	"formbuck/buck/internal/job"
	"formbuck/buck/internal/sound"
	"formbuck/mesh"
)

// TestGateFaultIsOurs checks that a piece whose mesh is not fit for a file is the program's fault, and says so.
func TestGateFaultIsOurs(t *testing.T) {
	err := job.Gated("ramp-any", new(mesh.Mesh))
	var own sound.Fault
	if !errors.As(err, &own) {
		t.Fatalf("%v is not a fault of the program's own", err)
	}
	for _, want := range []string{"ramp-any: mesh: empty", "fault of formbuck's own", "please report it"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q does not say %q", err, want)
		}
	}
}

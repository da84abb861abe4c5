package buck

import (
	"errors"
	"regexp"
	"testing"

	"formbuck/buck/internal/sound"
	"formbuck/testdata"
)

// TestOwnFaultNamesItsVariant checks that a fault of the program's own comes with the digest of the variant, so that a report
// can be told from others.
func TestOwnFaultNamesItsVariant(t *testing.T) {
	d, err := Open(testdata.FS, "thistle.toml")
	if err != nil {
		t.Fatal(err)
	}
	err = d.placed(sound.Fault{{What: "ramp-any: mesh: empty: 1", Own: true}})
	want := regexp.MustCompile(`^thistle.toml: ramp-any: mesh: empty: 1: a fault of formbuck's own, .*: please report it .* \(digest of the variant: [0-9a-f]{16}\)$`)
	if !want.MatchString(err.Error()) {
		t.Error(err)
	}
	var f *Fault
	if !errors.As(err, &f) || f.Kind != Own || f.File != "thistle.toml" {
		t.Errorf("%+v", f)
	}
}

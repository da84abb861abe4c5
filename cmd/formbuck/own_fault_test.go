package main

import (
	"regexp"
	"testing"

	"formbuck/buck/sound"
)

// TestOwnFaultNamesItsVariant checks that a fault of the program's own comes with the digest of the variant, so that a report
// can be told from others.
func TestOwnFaultNamesItsVariant(t *testing.T) {
	made, err := loadWork(order{})
	if err != nil {
		t.Fatal(err)
	}
	w, ok := made.(*knifeWork)
	if !ok {
		t.Fatal("the demo is no knife")
	}
	said := w.placed(sound.Fault{{What: "ramp-any: mesh: empty: 1", Own: true}}).Error()
	want := regexp.MustCompile(`^thistle.toml: ramp-any: mesh: empty: 1: a fault of formbuck's own, .*: please report it .* \(digest of the variant: [0-9a-f]{16}\)$`)
	if !want.MatchString(said) {
		t.Error(said)
	}
}

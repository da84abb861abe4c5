// Package size says how much of a property a test tries. It imports nothing of the project, so
// that leaves may use it.
package size

import (
	"os"
	"testing"
)

// Full reports whether a property is to be tried in full: FORMBUCK_FULL asks for it, as
// .ci/run full does, and -short, which the race detector's run takes, outweighs it.
func Full() bool { return os.Getenv("FORMBUCK_FULL") != "" && !testing.Short() }

// Of returns as many cases as a run has time for: with -short, as usual, or in full.
func Of(short, usual, full int) int {
	switch {
	case testing.Short():
		return short
	case Full():
		return full
	}
	return usual
}

// Or returns what is tried as usual, or all there is to try where the property is tried in full.
func Or[T any](usual, full T) T {
	if Full() {
		return full
	}
	return usual
}

// Long leaves a test out with -short: one that works long in one goroutine, or starts no others
// than tests that remain.
func Long(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skip("with -short")
	}
}

package twin_test

import (
	"testing"

	"formbuck/buck"
	"formbuck/buck/bucktest"
)

// knives are the test knife and the demo knives, by name.
func knives(t testing.TB) map[string]*buck.Knife {
	t.Helper()
	all := map[string]*buck.Knife{"hunter": hunter(t)}
	if raced {
		return all
	}
	for _, name := range bucktest.Demos() {
		v, plan := bucktest.Demo(t, name)
		all[name] = bucktest.Knife(t, plan, v.Spec)
	}
	return all
}

func hunter(t testing.TB) *buck.Knife {
	t.Helper()
	return bucktest.Knife(t, bucktest.Hunter(), bucktest.Spec())
}

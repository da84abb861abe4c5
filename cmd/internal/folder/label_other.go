//go:build !linux

package folder

// setLabel does nothing: there are no labels here.
func setLabel(_, _ string) {}

// Label is empty: there are no labels here.
func Label(string) string { return "" }

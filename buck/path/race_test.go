//go:build race

package path_test

// variants is how many are drawn at random; the race detector makes each ten times slower.
const variants = 20

//go:build !race

package path_test

// variants is how many are drawn at random.
const variants = 500

//go:build !race

package path_test

// variants is how many are drawn at random; 500 take two minutes.
const variants = 60

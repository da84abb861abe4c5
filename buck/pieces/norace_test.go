//go:build !race

package pieces_test

const raced = false

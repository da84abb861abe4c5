//go:build !race

package twin_test

const raced = false

//go:build !race

package buck_test

const raced = false

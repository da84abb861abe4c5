//go:build !race

package profile_test

// slow is by how much longer a busy machine may take.
const slow = 8

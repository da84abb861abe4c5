//go:build race

package profile_test

// slow is by how much longer a busy machine may take that runs the race detector, which alone takes
// ten times as long.
const slow = 40

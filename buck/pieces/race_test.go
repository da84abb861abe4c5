//go:build race

package pieces_test

// raced tells that the race detector is on. It makes what is worked out by brute force ten times
// slower, in which nothing runs side by side but the rows of one relief.
const raced = true

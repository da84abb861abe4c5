//go:build race

package twin_test

// raced tells that the race detector is on, which slows the measuring down tenfold: one knife does.
const raced = true

// Command formbuck turns a knife's drawing and a handful of measures into the printed pieces of a
// forming buck for two-piece thermoformed sheaths.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

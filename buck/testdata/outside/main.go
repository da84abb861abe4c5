// Command outside makes a variant of a folder's files into another folder.
package main

import (
	"context"
	"log"
	"os"

	"formbuck/buck"
)

func main() {
	design, err := buck.Open(os.DirFS(os.Args[1]), os.Args[2])
	if err != nil {
		log.Fatal(err)
	}
	made, err := design.Make(context.Background(), buck.Options{})
	if err != nil {
		log.Fatal(err)
	}
	if err := os.CopyFS(os.Args[3], made.Files); err != nil {
		log.Fatal(err)
	}
}

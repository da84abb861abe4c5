package folder_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"formbuck/cmd/internal/folder"
)

func Example() {
	root, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(root) //nolint:errcheck // a temporary folder
	job, err := folder.Open(filepath.Join(root, "hunter"), folder.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	report, err := job.Write(context.Background(), []folder.File{{Name: "ramp.stl", Data: []byte("solid ramp")}})
	fmt.Println(report.Written, err, job.Close())
	// Output: [ramp.stl] <nil> <nil>
}

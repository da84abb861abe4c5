package main

import (
	"debug/elf"
	"os"
	"path/filepath"
	"sync"

	"formbuck/cmd/internal/folder"
)

// again finds in a job folder what need not be made again. A file that was made is labelled with a digest of the program
// that made it, of all that it was made from and of what it holds. Where these three are what they were, it is what would be
// made once more; a file that was damaged, put there by hand or made by another program is made anew. The label lies beside
// what the file holds, so that a folder has the same bytes whether it was made at once or after others.
type again struct {
	dir     string
	program string // empty: it cannot be told from others, and nothing is taken again
}

// buildID is that of the running program, which no other has; empty: it cannot be told.
var buildID = sync.OnceValue(func() string {
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	file, err := elf.Open(path)
	if err != nil {
		return "" // another system's form of program
	}
	defer file.Close() //nolint:errcheck // only read from
	section := file.Section(".note.go.buildid")
	if section == nil {
		return ""
	}
	note, err := section.Data()
	if err != nil || len(note) < 32 {
		return ""
	}
	return string(note)
})

// label is that of a file made by the program from the inputs; empty where nothing is known of them.
func (g again) label(inputs string, data []byte) string {
	if g.program == "" || inputs == "" {
		return ""
	}
	return digest([]byte(g.program + "\n" + inputs + "\n" + digest(data)))
}

// earlier is what the file of the name holds, if this program made it from these inputs.
func (g again) earlier(name, inputs string) []byte {
	path := filepath.Join(g.dir, name)
	label := folder.Label(path)
	if label == "" {
		return nil
	}
	data, err := os.ReadFile(path)
	if err != nil || g.label(inputs, data) != label {
		return nil
	}
	return data
}

package main

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"sync"

	"formbuck/buck"
	"formbuck/cmd/internal/folder"
)

// again finds in a job folder what need not be made again: a file that this program made from the same inputs and that is
// still as it was written is what would be made once more.
type again struct {
	job     *folder.Job
	program func() string // digest of the program; empty, or a nil function: it cannot be told from others, and nothing is taken again
}

// itself is a digest of the running program's file, which no other has; empty: it cannot be read.
var itself = sync.OnceValue(func() string {
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	file, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer file.Close() //nolint:errcheck // only read from
	h := sha256.New()
	if _, err := io.Copy(h, file); err != nil {
		return ""
	}
	return hex.EncodeToString(h.Sum(nil))
})

// madeOf stands for this program and the inputs; empty where either is not known.
func (g again) madeOf(inputs string) string {
	if g.program == nil || g.program() == "" || inputs == "" {
		return ""
	}
	sum := sha256.Sum256([]byte(g.program() + "\n" + inputs))
	return hex.EncodeToString(sum[:])
}

// earlier is what the file of the name holds, if this program made it from these inputs.
func (g again) earlier(name, inputs string) []byte {
	madeOf := g.madeOf(inputs)
	if madeOf == "" {
		return nil
	}
	return g.job.Earlier(name, madeOf)
}

// files are what was made, each with what it was made of.
func (g again) files(m *buck.Made) []folder.File {
	all := make([]folder.File, len(m.Files))
	for i, f := range m.Files {
		all[i] = folder.File{Name: f.Name, Data: f.Data, MadeOf: g.madeOf(f.Inputs)}
	}
	return all
}

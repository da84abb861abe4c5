package folder

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
)

// ManifestName is the file in a job folder that lists what was written there.
const ManifestName = ".formbuck.json"

// manifest lists the files of a job by name, in rising order.
type manifest struct {
	Files []entry `json:"files"`
}

// entry is one file as it was written.
type entry struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"` // of its content, in hex
	MadeOf string `json:"made_of,omitempty"`
}

// list is the manifest of a job's files.
func list(files []File) manifest {
	m := manifest{Files: []entry{}}
	for _, f := range files {
		m.Files = append(m.Files, entry{Name: f.Name, SHA256: sum(f.Data), MadeOf: f.MadeOf})
	}
	slices.SortFunc(m.Files, func(a, b entry) int { return strings.Compare(a.Name, b.Name) })
	return m
}

// encode writes the manifest, the same bytes for the same files.
func (m manifest) encode() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(m); err != nil {
		return nil, fmt.Errorf("manifest: %w", err)
	}
	return b.Bytes(), nil
}

// sums maps each name to the hash of what was written under it.
func (m manifest) sums() map[string]string {
	sums := make(map[string]string, len(m.Files))
	for _, e := range m.Files {
		sums[e.Name] = e.SHA256
	}
	return sums
}

// maxManifest and maxFile are the most that is read of a manifest and of any other file, in bytes.
const (
	maxManifest = 16 << 20
	maxFile     = 2 << 30
)

// readManifest reads the manifest of the job folder; a folder without one has an empty manifest.
func (j *Job) readManifest() (m manifest, data []byte, err error) {
	data, err = j.at.ReadFile(filepath.Join(j.dir, ManifestName), maxManifest)
	if errors.Is(err, fs.ErrNotExist) {
		return m, nil, nil
	}
	if err != nil {
		return m, nil, err
	}
	m, err = decodeManifest(data)
	return m, data, err
}

// decodeManifest reads a manifest, which is one document without unknown fields.
func decodeManifest(data []byte) (manifest, error) {
	var m manifest
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&m); err != nil {
		return manifest{}, err
	}
	if dec.More() {
		return manifest{}, errors.New("more than one document")
	}
	return m, nil
}

// entries is what the manifest that is there tells, by name; nothing where it cannot be read.
func (j *Job) entries() map[string]entry {
	m, _, err := j.readManifest()
	if err != nil {
		return nil // Write tells of it
	}
	entries := make(map[string]entry, len(m.Files))
	for _, e := range m.Files {
		entries[e.Name] = e
	}
	return entries
}

// Earlier is what a file of the earlier job holds, if it was made of what the digest stands for and is still as it was
// written; else nil. It may be called from several goroutines, before Write.
func (j *Job) Earlier(name, madeOf string) []byte {
	e, ok := j.earlier()[name]
	if !ok || madeOf == "" || e.MadeOf != madeOf {
		return nil
	}
	data, err := j.at.ReadFile(filepath.Join(j.dir, filepath.FromSlash(name)), maxFile)
	if err != nil || sum(data) != e.SHA256 {
		return nil
	}
	return data
}

func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

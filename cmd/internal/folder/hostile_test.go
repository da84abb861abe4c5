package folder_test

import (
	"bytes"
	"strings"
	"testing"

	"formbuck/cmd/internal/folder"
	"formbuck/testdata/hostile"
)

// manifestText is a manifest of some files, a field a line.
const manifestText = `{
  "files": [
    {
      "name": "boss-right.stl",
      "sha256": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
      "made_of": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    },
    {
      "name": "papers/faces.pdf",
      "sha256": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    }
  ]
}
`

// TestHostile reads damaged manifests, and some as large as can be.
func TestHostile(t *testing.T) {
	hostile.Run(t, 2000, []string{manifestText}, folder.ReadManifest)
	_, one, _ := strings.Cut(manifestText, "[")
	one, _, _ = strings.Cut(one, "    },")
	for name, text := range map[string]string{
		"entries": `{"files":[` + strings.TrimSuffix(strings.Repeat(one+"},", 50_000), ",") + "]}",
		"deep":    `{"files":` + strings.Repeat("[", 8<<20),
		"nothing": string(bytes.Repeat([]byte{0}, 8<<20)),
	} {
		if err := hostile.Bounded(t, name, []byte(text), folder.ReadManifest); (err == nil) != (name == "entries") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

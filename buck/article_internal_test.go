package buck

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/buck/measures"

	"github.com/google/go-cmp/cmp"
)

// Whatever was kept of a variant: an error, or what lies in its folder, can be asked for by any hand, and is written and
// read again as the same.
func FuzzArticle(f *testing.F) {
	f.Add([]byte(`{"inputs":"00","variant":"thistle","blank_mm":[170,320],"turned_mm":[320,170],"eyelets":20,"holes":4,"trim_mm":705.5,
"posts":{"right":2},"pieces":[{"file":"a.stl","sha256":"00","hands":["right","both"],"tool":true}],
"programs":[{"file":"a.ngc","does":"drill","kind":"drill","work":"the pair","tool":"a drill","holes":4,"hands":["right"]}]}`))
	f.Add([]byte(`{"pieces":[{"file":"../a.stl"}]}`))
	f.Add([]byte(`null{}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		a, err := decodeArticle(bytes.NewReader(text))
		if (err == nil) == (a == nil) {
			t.Fatalf("%v and %v", a, err)
		}
		if err != nil {
			return
		}
		for _, file := range a.files() {
			if path := filepath.Join("dir", file); path != "dir" && !strings.HasPrefix(path, filepath.FromSlash("dir/")) {
				t.Errorf("%q lies outside the folder", file)
			}
		}
		for _, hand := range measures.Hands() {
			if a.of(hand, 2.4, map[string]bool{"00": true}) == nil {
				t.Errorf("nothing for the hand %s", hand)
			}
		}
		written, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		again, err := decodeArticle(bytes.NewReader(written))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(a, again); diff != "" {
			t.Error(diff)
		}
	})
}

package measures

import "regexp"

// The words of a blade with two edges, which has no spine.
var (
	spineWord = regexp.MustCompile(`\bspine\b`)
	edgeWord  = regexp.MustCompile(`\bedge\b`)
)

// Told is a text that names the sides of a blade with one edge, edge and spine, as it is for this one: of a dagger they are its
// first and its second edge.
func (b Blade) Told(text string) string {
	if b.Edges < 2 {
		return text
	}
	return spineWord.ReplaceAllString(edgeWord.ReplaceAllString(text, "first edge"), "second edge")
}

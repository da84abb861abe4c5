package variant

import "strings"

// listed is the names as a phrase: "a", "a or b", "a, b or c".
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

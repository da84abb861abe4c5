// Package nearest finds the name that somebody meant who wrote another.
package nearest

import "strings"

// maxWord is the longest word, in bytes, that is taken for a slip.
const maxWord = 60

// To is the known name that word is most likely a slip for, or "" if none is near. Of equally
// near names the first wins.
func To(word string, known []string) string {
	if len(word) > maxWord {
		return ""
	}
	best, least := "", 1+min(3, max(1, len(word)/3))
	for _, name := range known {
		if d := distance(strings.ToLower(word), name); d < least {
			best, least = name, d
		}
	}
	return best
}

// distance is the least number of letters to insert, delete, replace or swap with their neighbour
// that turns a into b (optimal string alignment; Damerau, Communications of the ACM 7(3), 1964).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	var before, last []int
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		before, last, row = last, row, make([]int, len(y)+1)
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := last[j-1]
			if x[i-1] != y[j-1] {
				change++
			}
			row[j] = min(last[j]+1, row[j-1]+1, change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(y)]
}

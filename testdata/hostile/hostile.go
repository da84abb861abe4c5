// Package hostile damages files for the tests of readers, knowing what they are made of: lines, fields and keys, numbers,
// elements and brackets. It imports nothing of the project, so that leaves may use it.
package hostile

import (
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
)

// What reading one file may take. A busy machine, or the race detector, makes it several times as long: the time itself is
// held to where FORMBUCK_HOSTILE asks for it.
const (
	MostTime   = 2 * time.Second
	MostMemory = 512 << 20 // bytes that are asked for in all, which is more than is held at once
	busy       = 10
)

// Count is how many changed files are tried: as many as FORMBUCK_HOSTILE says, else so few.
func Count(t testing.TB, few int) int {
	t.Helper()
	text := os.Getenv("FORMBUCK_HOSTILE")
	if text == "" {
		return few
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		t.Fatalf("FORMBUCK_HOSTILE=%s is no number of files", text)
	}
	return n
}

// Bounded reads one file, and fails the test where that takes more than it may. The reader's error is handed on.
func Bounded(t testing.TB, name string, data []byte, read func(data []byte) error) error {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	begun := time.Now()
	err := read(data)
	took := time.Since(begun)
	runtime.ReadMemStats(&after)
	limit := MostTime
	if os.Getenv("FORMBUCK_HOSTILE") == "" {
		limit *= busy
	}
	if asked := after.TotalAlloc - before.TotalAlloc; took > limit || asked > MostMemory {
		t.Errorf("%s: %d bytes took %v and %d MB", name, len(data), took, asked>>20)
	}
	return err
}

// Run reads so many changed files, or as many as FORMBUCK_HOSTILE says, each within what it may take. They are made from
// the good ones, which the reader has to take; it returns what it finds wrong with the file, and fails the test itself
// where it does not behave. A run in which hardly any file is refused, or none is taken, shows nothing and fails.
func Run(t *testing.T, few int, good []string, read func(data []byte) error) {
	t.Helper()
	for i, text := range good {
		if err := read([]byte(text)); err != nil {
			t.Fatalf("good file %d: %v", i, err)
		}
	}
	n, refused := Count(t, few), 0
	m := Mutator{rand.New(rand.NewPCG(17, uint64(n)))}
	for i := range n {
		text := good[m.IntN(len(good))]
		for range 1 + m.IntN(3) {
			text = m.Change(text)
		}
		if Bounded(t, "change "+strconv.Itoa(i), []byte(text), read) != nil {
			refused++
		}
		if t.Failed() {
			t.Fatalf("change %d: %.3000q", i, text)
		}
	}
	t.Logf("%d of %d refused", refused, n)
	if refused < n/20 || refused == n {
		t.Errorf("%d of %d changed files are refused: nothing was shown", refused, n)
	}
}

// odd are words that a hand may have mistyped, or meant harm with.
var odd = []string{
	"", " ", "0", "-0", "-1", "1e9", "1e300", "1e999", "-1e-300", "NaN", "nan", "+inf", "99999999999999999999", "2147483648", "0x7f", "1_000", ".5", "0.1.2",
	"\x00", "\x1b[31m", "\u202e", "\ufeff", "\xff\xfe", "\r", "\n\n", "\t", "🦦", "=1+1", "../../x", "/dev/zero", "true", "null", "{}", "[]", "\"", "\"\"\"", "'", ",", ";", "#", "<", "&a;", "]]>", "<!--",
}

// nests open something that is never closed, or closed as often.
var nests = [][2]string{{"[", "]"}, {"{", "}"}, {"a.", ""}, {"[[", "]]"}, {"<a>", "</a>"}, {`{"a":`, "}"}, {"(", ")"}, {`"`, ""}}

// Mutator changes files, the same way for the same seed.
type Mutator struct{ *rand.Rand }

// Change makes one change: to lines, to words within one, to numbers or to the whole.
func (m Mutator) Change(text string) string {
	switch m.IntN(12) {
	case 0:
		return text[:m.IntN(len(text)+1)] // cut
	case 1:
		at := m.IntN(len(text) + 1)
		nest, deep := nests[m.IntN(len(nests))], 1<<m.IntN(15)
		closed := strings.Repeat(nest[1], deep*m.IntN(2))
		return text[:at] + strings.Repeat(nest[0], deep) + closed + text[at:]
	case 2, 3, 4, 5:
		return m.lines(text)
	}
	return m.words(text)
}

// lines changes what lines there are: one is lost, doubled, made many, put elsewhere.
func (m Mutator) lines(text string) string {
	lines := strings.SplitAfter(text, "\n")
	at, other := m.IntN(len(lines)), m.IntN(len(lines))
	switch m.IntN(4) {
	case 0:
		lines[at] = ""
	case 1:
		lines[at] += lines[at]
	case 2:
		lines[at] = strings.Repeat(lines[at], 1+m.IntN(2000))
	case 3:
		lines[at], lines[other] = lines[other], lines[at]
	}
	return strings.Join(lines, "")
}

// words changes a word: a key, a field, a number, an element's name, or what parts them.
func (m Mutator) words(text string) string {
	words := split(text)
	if len(words) == 0 {
		return odd[m.IntN(len(odd))]
	}
	at, other := m.IntN(len(words)), m.IntN(len(words))
	switch m.IntN(6) {
	case 0:
		words[at] = ""
	case 1:
		words[at] += words[at]
	case 2:
		words[at], words[other] = words[other], words[at]
	case 3:
		if v, err := strconv.ParseFloat(words[at], 64); err == nil {
			words[at] = strconv.FormatFloat(v*[]float64{-1, 0, 1e-6, 10, 1e6, 1e30}[m.IntN(6)], 'g', -1, 64)
			break
		}
		words[at] = strings.Repeat(words[at], 1+m.IntN(3000))
	default:
		words[at] = odd[m.IntN(len(odd))]
	}
	return strings.Join(words, "")
}

// split parts a text into words and into what stands between them, sign by sign.
func split(text string) []string {
	var words []string
	inner := func(c byte) bool {
		return c >= 0x80 || c == '.' || c == '-' || c == '_' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z'
	}
	for from := 0; from < len(text); {
		to := from + 1
		for inner(text[from]) && to < len(text) && inner(text[to]) {
			to++
		}
		words = append(words, text[from:to])
		from = to
	}
	return words
}

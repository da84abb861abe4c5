package ngc

import "strings"

// Comment is one comment: what is in the parentheses, without them.
type Comment struct {
	Text         string
	Line, Column int
	Head         bool // whether it comes before the first word of its program
}

// A control carries out comments that begin so, spaces and case left out (the manual of the controller of Debian's
// linuxcnc-uspace, G-code overview, "Messages", "Probe logging", "Logging", "Debug messages", "Print messages",
// "Python"; the other open controllers know a part of them, from memory).
var (
	activeWords    = []string{"LOGOPEN", "LOGAPPEND", "LOGCLOSE", "PROBEOPEN", "PROBECLOSE"}
	activeCommands = []string{"MSG", "DEBUG", "PRINT", "LOG", "PROBE", "AXIS", "PY", "ABORT", "NOTIFY"} // with a comma or a colon after it
)

// Active is the word by which controls take a comment for a command, as MSG; empty: it is for people alone.
func Active(text string) string {
	var b strings.Builder
	for i := 0; i < len(text) && b.Len() < 16; i++ {
		if c := text[i]; c != ' ' && c != '\t' {
			b.WriteByte(c)
		}
	}
	bare := strings.ToUpper(b.String())
	for _, word := range activeWords {
		if strings.HasPrefix(bare, word) {
			return word
		}
	}
	for _, word := range activeCommands {
		if rest, ok := strings.CutPrefix(bare, word); ok && (rest == "" || rest[0] == ',' || rest[0] == ':') {
			return word
		}
	}
	return ""
}

// Plain is text as it may stand in a comment: printable ASCII on one line, without what would end it or have a
// control carry it out, no word of it over 80 characters.
func Plain(text string) string {
	text = strings.NewReplacer("(", "[", ")", "]", "Ø", "diameter", "°", " deg", ";", ",").Replace(text)
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case r < ' ' || r > '~':
			return '-'
		}
		return r
	}, text)
	var words []string
	for word := range strings.FieldsSeq(text) {
		words = append(words, word[:min(len(word), 80)])
	}
	if text = strings.Join(words, " "); Active(text) != "" {
		return "- " + text
	}
	return text
}

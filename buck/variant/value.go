package variant

import (
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// maxShown is how much of a value a message shows, in characters.
const maxShown = 60

// maxItems is how many items of a list are kept: more than any list may hold.
const maxItems = 32

// value is a value as written, copied from the parser.
type value struct {
	kind  unstable.Kind
	raw   string // as written; empty for lists and tables
	text  string // of a string
	at    Position
	items []value // of a list
}

// value copies a node. Lists carry no place of their own, so the offset of the first byte is given.
func (r *reader) value(n *unstable.Node, offset int) value {
	v := value{kind: n.Kind, at: r.doc.source.position(offset)}
	switch n.Kind {
	case unstable.Array:
		for items := n.Children(); items.Next() && len(v.items) < maxItems; {
			item := items.Node()
			v.items = append(v.items, r.value(item, max(offset, int(item.Raw.Offset))))
		}
	case unstable.InlineTable:
	case unstable.String:
		v.raw, v.text = string(r.p.Raw(n.Raw)), string(n.Data)
	default:
		v.raw = string(r.p.Raw(n.Raw))
	}
	return v
}

// shown is the value as a message shows it.
func (v value) shown() string {
	switch v.kind {
	case unstable.Array:
		return "a list"
	case unstable.InlineTable:
		return "a table"
	case unstable.String:
		return strconv.Quote(shortened(v.text))
	default:
		return shortened(v.raw)
	}
}

// shortened is the text, cut where it is longer than a message shows.
func shortened(text string) string {
	if runes := []rune(text); len(runes) > maxShown {
		return string(runes[:maxShown]) + "..."
	}
	return text
}

// source is the value as TOML on one line.
func (v value) source() string {
	switch v.kind {
	case unstable.Array:
		items := make([]string, len(v.items))
		for i, item := range v.items {
			items[i] = item.source()
		}
		return "[" + strings.Join(items, ", ") + "]"
	case unstable.InlineTable:
		return "{}"
	case unstable.String:
		return quoted(v.text)
	default:
		return v.raw
	}
}

// parseDefault reads a value that the list of keys holds as TOML.
func parseDefault(text string) value {
	const key = "x = "
	r := &reader{doc: emptyDocument(source{text: []byte(key + text)})}
	r.p.Reset(r.doc.source.text)
	if !r.p.NextExpression() {
		return value{}
	}
	return r.value(r.p.Expression().Value(), len(key))
}

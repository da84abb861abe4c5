package main

import (
	"fmt"
	"strings"

	"formbuck/buck"

	pretty "github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// screen is how wide an answer for people is at the most, in columns, whatever the terminal: so that it is the same
// in a file.
const screen = 80

// lightTable is an empty table in the way of all answers.
func lightTable(head ...any) pretty.Writer {
	t := pretty.NewWriter()
	style := pretty.StyleLight
	style.Format.Header = text.FormatDefault // upper case would turn mm into MM
	style.Options = pretty.OptionsNoBordersAndSeparators
	style.Options.SeparateHeader = true
	t.SetStyle(style)
	t.AppendHeader(head)
	return t
}

// toRight is for columns of figures.
func toRight(columns ...int) []pretty.ColumnConfig {
	var all []pretty.ColumnConfig
	for _, n := range columns {
		all = append(all, pretty.ColumnConfig{Number: n, Align: text.AlignRight})
	}
	return all
}

// narrowed lets the text of a column go on in further lines where it is wider than most.
func narrowed(column, most int) pretty.ColumnConfig {
	return pretty.ColumnConfig{Number: column, WidthMax: most, WidthMaxEnforcer: text.WrapSoft}
}

// table lays out the pieces that were made, a line each. What governed them stands below, once for all
// neighbours that it holds for.
func table(rows []buck.Piece) string {
	t := lightTable("piece", "hand", "size mm", "volume mm3", "mass g")
	t.SetColumnConfigs(toRight(3, 4, 5))
	indent := len("piece")
	for _, r := range rows {
		size := fmt.Sprintf("%.2f x %.2f x %.2f", r.Size.X, r.Size.Y, r.Size.Z)
		t.AppendRow(pretty.Row{r.Piece, r.Hand, size, fmt.Sprintf("%.1f", r.Volume), fmt.Sprintf("%.2f", r.Mass)})
		indent = max(indent, text.StringWidth(r.Piece))
	}
	lines := strings.Split(trimmed(t.Render()), "\n")
	const head = 2 // lines
	out := lines[:head:head]
	for i, r := range rows {
		out = append(out, lines[head+i])
		if i+1 == len(rows) || rows[i+1].Governed != r.Governed || rows[i+1].Piece != r.Piece {
			for line := range strings.SplitSeq(text.WrapSoft(r.Governed, screen-indent-3), "\n") {
				out = append(out, strings.Repeat(" ", indent+3)+strings.TrimSpace(line))
			}
		}
	}
	return strings.Join(out, "\n")
}

// trimmed is the text without blanks at the ends of its lines.
func trimmed(s string) string {
	lines := strings.Split(s, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
	}
	return strings.Join(lines, "\n")
}

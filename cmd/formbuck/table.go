package main

import (
	"fmt"
	"strings"

	pretty "github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// table lays out the pieces that were made, a line each.
func table(rows []pieceRow) string {
	t := pretty.NewWriter()
	style := pretty.StyleLight
	style.Format.Header = text.FormatDefault // upper case would turn mm into MM
	style.Options = pretty.OptionsNoBordersAndSeparators
	style.Options.SeparateHeader = true
	t.SetStyle(style)
	t.SetColumnConfigs([]pretty.ColumnConfig{
		{Name: "volume mm3", Align: text.AlignRight},
		{Name: "mass g", Align: text.AlignRight},
		{Name: "size mm", Align: text.AlignRight},
	})
	t.AppendHeader(pretty.Row{"piece", "hand", "size mm", "volume mm3", "mass g", "governed by"})
	for _, r := range rows {
		size := fmt.Sprintf("%.2f x %.2f x %.2f", r.Size.X, r.Size.Y, r.Size.Z)
		t.AppendRow(pretty.Row{r.Piece, r.Hand, size, fmt.Sprintf("%.1f", r.Volume), fmt.Sprintf("%.2f", r.Mass), r.Governed})
	}
	return trimmed(t.Render())
}

// trimmed is the text without blanks at the ends of its lines.
func trimmed(s string) string {
	lines := strings.Split(s, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
	}
	return strings.Join(lines, "\n")
}

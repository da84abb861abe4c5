package main

import (
	"formbuck/buck/path"

	pretty "github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// drawTable lays out what was found and what is asked for.
func drawTable(r *path.Report) string {
	t := pretty.NewWriter()
	style := pretty.StyleLight
	style.Format.Header = text.FormatDefault // upper case would turn mm into MM
	style.Options = pretty.OptionsNoBordersAndSeparators
	style.Options.SeparateHeader = true
	t.SetStyle(style)
	t.AppendHeader(pretty.Row{"what", "found", "asked"})
	for _, row := range r.Rows() {
		t.AppendRow(pretty.Row{row.What, row.Found, row.Asked})
	}
	return trimmed(t.Render())
}

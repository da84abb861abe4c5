package main

import (
	"formbuck/buck/path"

	pretty "github.com/jedib0t/go-pretty/v6/table"
)

// drawTable lays out what was found and what is asked for.
func drawTable(r *path.Report) string {
	t := lightTable("what", "found", "asked")
	t.SetColumnConfigs([]pretty.ColumnConfig{narrowed(2, 34), narrowed(3, 15)})
	for _, row := range r.Rows() {
		t.AppendRow(pretty.Row{row.What, row.Found, row.Asked})
	}
	return trimmed(t.Render())
}

package main

import (
	"fmt"
	"slices"
	"strings"

	"formbuck/buck"
	"formbuck/buck/batch"
	"formbuck/buck/batch/picture"
	"formbuck/cmd/internal/folder"

	pretty "github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// batchText is the answer for people.
func batchText(b *buck.Batch, p *batch.Plan, dir string) string {
	var s strings.Builder
	t := lightTable("order", "knife", "hand", "sheet", "sheaths", "ready")
	t.SetColumnConfigs([]pretty.ColumnConfig{{Number: 5, Align: text.AlignRight}})
	for n, o := range p.Orders {
		a := p.ArticleOf(n)
		t.AppendRow(pretty.Row{o.ID, a.Variant, string(o.Hand), fmt.Sprintf("%s %.4g mm", o.Colour, a.Gauge), o.Quantity, picture.Ready(p, n)})
	}
	fmt.Fprintf(&s, "%s\n\n", trimmed(t.Render()))
	for _, line := range sayings(b, p, dir) {
		fmt.Fprintf(&s, "%s\n", line)
	}
	return s.String()
}

// sayings are the plan in a few lines.
func sayings(b *buck.Batch, p *batch.Plan, dir string) []string {
	var lines []string
	for _, late := range p.Late {
		o := p.Orders[late.Order]
		lines = append(lines, fmt.Sprintf("late: order %s, due %s, is ready %s", o.ID, o.Due.Written(), late.Ready.Written()))
	}
	if p.Start.None() && slices.ContainsFunc(p.Orders, func(o batch.Order) bool { return !o.Due.None() }) {
		lines = append(lines, "dates are not kept to: with --start DAY they are, and who is late is named")
	}
	if more := moreColumns(b); len(more) > 0 {
		lines = append(lines, "goes along to the travellers as it is: "+strings.Join(more, ", "))
	}
	print := 0
	for _, one := range p.Print {
		print += one.Count
	}
	sheets := 0
	for _, c := range p.Cutting {
		sheets += len(c.Sheets)
	}
	lines = append(lines, fmt.Sprintf("to print: %s; to cut: %s", count(print, "piece"), count(sheets, "sheet")))
	for _, c := range p.Counts {
		if n := c.Missing(); n > 0 {
			lines = append(lines, fmt.Sprintf("short of %s; %d needed", count(n, c.Name), c.Need))
		}
	}
	if use := p.Limits(); use.Busy > 0 {
		lines = append(lines, fmt.Sprintf("what limits it: the %s, busy for %.0f %% of the time", use.Place, 100*use.Share))
	}
	for _, saving := range p.Savings {
		lines = append(lines, fmt.Sprintf("one more %s: done %s sooner", saving.More, picture.Hours(saving.Minutes)))
	}
	return append(lines, fmt.Sprintf("%s: %s, %s, %s of work in %s",
		dir, count(len(p.Orders), "order"), count(len(p.Loads), "sheath"), picture.Hours(p.Schedule.Minutes), count(p.Days(), "day")))
}

// moreColumns are the columns of the list that are not known and go along.
func moreColumns(b *buck.Batch) []string {
	var all []string
	for _, o := range b.Orders {
		for _, f := range o.More {
			if !slices.Contains(all, f.Column) {
				all = append(all, f.Column)
			}
		}
	}
	return all
}

// batchAnswer is what batch says as JSON.
type batchAnswer struct {
	Folder  string        `json:"folder"`
	Orders  []orderEntry  `json:"orders"`
	Late    []string      `json:"late"`
	Minutes float64       `json:"minutes"`
	Days    int           `json:"days"`
	Limits  string        `json:"limits"`
	Print   []printEntry  `json:"print"`
	Bucks   []buckEntry   `json:"bucks"`
	Sheets  []sheetEntry  `json:"sheets"`
	Counts  []countEntry  `json:"supplies"`
	Savings []savingEntry `json:"savings"`
	Runs    []millEntry   `json:"runs"`
	Written []string      `json:"written"`

	Warnings []string `json:"warnings"`
}

type orderEntry struct {
	Order    string  `json:"order"`
	Variant  string  `json:"variant"`
	Hand     string  `json:"hand"`
	Colour   string  `json:"colour"`
	Gauge    float64 `json:"gauge_mm"`
	Quantity int     `json:"quantity"`
	Done     string  `json:"done"`
	Ready    float64 `json:"ready_minutes"`
}

type printEntry struct {
	File  string `json:"file"`
	Count int    `json:"count"`
}

type buckEntry struct {
	Variant string  `json:"variant"`
	Hand    string  `json:"hand"`
	Gauge   float64 `json:"gauge_mm"`
	Owned   int     `json:"owned"`
	Make    int     `json:"make"`
	AtOnce  int     `json:"at_once"`
	Sheaths int     `json:"sheaths"`
}

type sheetEntry struct {
	Colour string  `json:"colour"`
	Gauge  float64 `json:"gauge_mm"`
	Sheets int     `json:"sheets"`
	Blanks int     `json:"blanks"`
	Yield  float64 `json:"yield"`
}

type countEntry struct {
	Name    string `json:"name"`
	Need    int    `json:"need"`
	OnShelf int    `json:"on_shelf"`
	Missing int    `json:"missing"`
}

type millEntry struct {
	File  string `json:"file"`
	Day   int    `json:"day"` // from 1
	Kind  string `json:"kind"`
	Tool  string `json:"tool"`
	Works int    `json:"works"`
}

type savingEntry struct {
	More    string  `json:"one_more"`
	Minutes float64 `json:"minutes"`
}

func batchAnswerOf(b *buck.Batch, p *batch.Plan, dir string, warnings []string, r folder.Report) batchAnswer {
	a := batchAnswer{
		Folder: dir, Late: []string{}, Minutes: figure(p.Schedule.Minutes), Days: p.Days(), Limits: p.Limits().Place,
		Print: []printEntry{}, Bucks: []buckEntry{}, Sheets: []sheetEntry{}, Savings: []savingEntry{}, Runs: []millEntry{}, Written: list(r.Written),
		Warnings: list(warnings),
	}
	for n, o := range p.Orders {
		article := p.ArticleOf(n)
		a.Orders = append(a.Orders, orderEntry{
			Order: o.ID, Variant: article.Variant, Hand: string(o.Hand), Colour: o.Colour, Gauge: figure(article.Gauge), Quantity: o.Quantity,
			Done: string(b.Status[n].Done), Ready: figure(p.Schedule.Ready[n]),
		})
	}
	for _, late := range p.Late {
		a.Late = append(a.Late, p.Orders[late.Order].ID)
	}
	for _, one := range p.Print {
		a.Print = append(a.Print, printEntry{File: one.File, Count: one.Count})
	}
	for _, k := range p.Bucks {
		a.Bucks = append(a.Bucks, buckEntry{
			Variant: k.Variant, Hand: string(k.Hand), Gauge: figure(k.Gauge), Owned: k.Owned, Make: k.Make(), AtOnce: k.AtOnce, Sheaths: k.Loads,
		})
	}
	for _, c := range p.Cutting {
		a.Sheets = append(a.Sheets, sheetEntry{Colour: c.Colour, Gauge: figure(c.Gauge), Sheets: len(c.Sheets), Blanks: len(c.Loads), Yield: figure(c.Yield())})
	}
	for _, c := range p.Counts {
		a.Counts = append(a.Counts, countEntry{Name: c.Name, Need: c.Need, OnShelf: c.OnShelf, Missing: c.Missing()})
	}
	for _, r := range p.Runs {
		a.Runs = append(a.Runs, millEntry{File: r.Name + ".ngc", Day: r.Day + 1, Kind: string(r.Kind), Tool: r.Tool, Works: len(r.Works)})
	}
	for _, s := range p.Savings {
		a.Savings = append(a.Savings, savingEntry{More: s.More, Minutes: figure(s.Minutes)})
	}
	return a
}

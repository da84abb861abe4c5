package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"formbuck/buck"
	"formbuck/buck/batch"
	"formbuck/buck/program/runs"
	"formbuck/cmd/internal/folder"
)

// series is what a run is made of: the same kind of set-up with the same tool, on one working day.
type series struct {
	day  int
	kind string // drill, posts or trim
	tool string // as the programs state it
}

// programs are the runs of the mill: for every working day one for each set-up and tool, the works in the order
// of the plan.
func (b *batchRun) programs(p *batch.Plan) ([]folder.File, error) {
	works := make(map[series][]runs.Work)
	var order []series
	texts := make(map[string][]byte)
	var faults []error
	for _, slot := range p.Schedule.InTime() {
		l := p.Loads[slot.Load]
		day, _ := p.Shop.Day.Clock(slot.End)
		for _, name := range milled(slot.Step, l.Article.Hand, p.Shop.Mill.ByHand) {
			text, err := b.program(l, name, texts)
			if err != nil {
				faults = append(faults, err)
			}
			if text == nil {
				continue
			}
			kind, _, _ := strings.Cut(name, "-")
			s := series{day: day, kind: kind, tool: toolOf(text)}
			if works[s] == nil {
				order = append(order, s)
			}
			works[s] = append(works[s], runs.Work{Name: workName(p, l, name), Text: text})
		}
	}
	var files []folder.File
	seen := make(map[string]int)
	for _, s := range order {
		name := fmt.Sprintf("day-%d-%s", s.day+1, s.kind)
		if seen[name]++; seen[name] > 1 {
			name += fmt.Sprintf("-%d", seen[name])
		}
		text, err := runs.Join(fmt.Sprintf("day %d: %s, %s", s.day+1, s.kind, s.tool), works[s])
		if err != nil {
			faults = append(faults, fmt.Errorf("%s: %w", name, err))
		}
		files = append(files, folder.File{Name: name + ".ngc", Data: text})
	}
	return files, errors.Join(faults...)
}

// milled are the programs of a step, by name, in the order of the work.
func milled(s batch.Step, h buck.Hand, postsByHand bool) []string {
	switch s {
	case batch.Drilling:
		return []string{"drill"}
	case batch.Trimming:
		var all []string
		for _, one := range []buck.Hand{buck.Right, buck.Left} {
			if !postsByHand && h.Includes(one) {
				all = append(all, "posts-"+string(one))
			}
		}
		return append(all, "trim-right-half", "trim-left-half")
	default:
		return nil
	}
}

// program is the text of a program from a load's job folder, nil where none could be written for the variant: then
// it is told, once, that the runs do without it.
func (b *batchRun) program(l *batch.Load, name string, texts map[string][]byte) ([]byte, error) {
	variant := l.Article.Variant
	path := filepath.Join(b.flags.dir, "bucks", variant, variant+"-"+name+".ngc")
	if text, known := texts[path]; known {
		return text, nil
	}
	if _, err := os.Lstat(path); err != nil {
		b.warnings = append(b.warnings, fmt.Sprintf("%s: no such program could be written; the day's runs go without it", path))
		texts[path] = nil
		return nil, nil
	}
	text, err := readFile(path)
	texts[path] = text
	return text, err
}

// workName says what is put on the mill.
func workName(p *batch.Plan, l *batch.Load, program string) string {
	o := p.Orders[l.Order]
	part := map[string]string{
		"drill": "the pair", "posts-right": "left half", "posts-left": "right half",
		"trim-right-half": "right half", "trim-left-half": "left half",
	}[program]
	name := fmt.Sprintf("order %s: %s", o.ID, part)
	if o.Quantity > 1 {
		name = fmt.Sprintf("order %s, sheath %d of %d: %s", o.ID, l.Number, o.Quantity, part)
	}
	return fmt.Sprintf("%s, %s %s, %s", name, l.Article.Variant, l.Article.Hand, l.Colour)
}

// toolOf is the tool that a program states in its set-up.
func toolOf(text []byte) string {
	for _, kind := range []string{"DRILL", "CUTTER"} {
		if _, rest, found := bytes.Cut(text, []byte("(SET-UP "+kind+" ")); found {
			tool, _, _ := bytes.Cut(rest, []byte(")"))
			return strings.ToLower(kind) + " " + string(tool)
		}
	}
	return "no tool"
}

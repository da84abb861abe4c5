package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"formbuck/buck/batch"
	"formbuck/buck/program/runs"
	"formbuck/cmd/internal/folder"
)

// programs are the runs of the mill as files. In the plan it is noted where each work begins, and what the runs
// have to do without is warned of.
func (b *batchRun) programs(p *batch.Plan) ([]folder.File, error) {
	for _, line := range p.Unwritten() {
		b.warnings = append(b.warnings, fmt.Sprintf("%s: %s could be written; the day's runs go without it", b.list, line))
	}
	texts := make(map[string][]byte)
	var files []folder.File
	var faults []error
	for _, r := range p.Runs {
		text, err := b.joined(p, r, texts)
		if err != nil {
			faults = append(faults, fmt.Errorf("%s: %w", r.Name, err))
			continue
		}
		files = append(files, folder.File{Name: r.Name + ".ngc", Data: text})
	}
	return files, errors.Join(faults...)
}

// joined is a run's text, out of those of the programs, which are read once.
func (b *batchRun) joined(p *batch.Plan, r batch.Run, texts map[string][]byte) ([]byte, error) {
	works := make([]runs.Work, len(r.Works))
	for i, w := range r.Works {
		path := filepath.Join(b.flags.dir, "bucks", w.Load.Article.Variant, w.Program.File)
		if texts[path] == nil {
			text, err := readFile(path)
			if err != nil {
				return nil, err
			}
			texts[path] = text
		}
		works[i] = runs.Work{Name: p.NameOf(w), Text: texts[path]}
	}
	text, err := runs.Join(fmt.Sprintf("day %d: %s, %s", r.Day+1, r.Kind, r.Tool), works)
	for i := range works {
		r.Works[i].Line = works[i].Line
	}
	return text, err
}

package main

import (
	"bytes"
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
	if err != nil {
		return nil, err
	}
	for i := range works {
		r.Works[i].Line = works[i].Line
	}
	return text, provable(r, text)
}

// provable refuses a run that prove would refuse: it is read again as a file, and each of its programs is proved where it
// stands first.
func provable(r batch.Run, text []byte) error {
	file := r.Name + ".ngc"
	works, err := runs.Read(file, bytes.NewReader(text))
	if err != nil {
		return err
	}
	if len(works) != len(r.Works) {
		return fmt.Errorf("%s: %d works were joined, and %d are read again", file, len(r.Works), len(works))
	}
	seen := make(map[[2]string]bool)
	var faults []error
	for i, w := range works {
		of := [2]string{r.Works[i].Load.Article.Variant, r.Works[i].Program.File}
		if seen[of] {
			continue
		}
		seen[of] = true
		if _, err := proved(file, w.Program); err != nil {
			faults = append(faults, fmt.Errorf("%s: %w\n%s: the run is not written; bucks/%s/%s was changed: remove it, and it is made anew", w.Name, err, file, of[0], of[1]))
		}
	}
	return errors.Join(faults...)
}

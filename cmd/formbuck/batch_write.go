package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"strings"
	"sync"

	"formbuck/buck/batch"
	"formbuck/buck/batch/picture"
	shop "formbuck/buck/paper/drawing"
	"formbuck/cmd/internal/folder"
	"formbuck/profile/dxf"
)

// write keeps what is done and writes the plan.
func (b *batchRun) write(ctx context.Context, a *app, p *batch.Plan) (folder.Report, error) {
	files, err := b.files(p)
	if err != nil {
		return folder.Report{}, err
	}
	defer a.hold()()
	target, err := folder.Open(filepath.Join(b.flags.dir, "plan"), folder.Options{Force: b.flags.force})
	if err != nil {
		return folder.Report{}, err
	}
	var status bytes.Buffer
	err = batch.WriteStatus(&status, b.status)
	if err == nil {
		err = overwrite(b.statusName(), status.Bytes())
	}
	if err != nil {
		return folder.Report{}, errors.Join(err, target.Close())
	}
	report, err := target.Write(ctx, files)
	return report, errors.Join(err, target.Close())
}

// files are the plan's files: first the runs of the mill, for the papers say where their works begin; then these and all
// else, as many at once as there are processors.
func (b *batchRun) files(p *batch.Plan) ([]folder.File, error) {
	files, fault := b.programs(p)
	written := b.outputs(p)
	all := make([]folder.File, len(written))
	faults := make([]error, len(written))
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i, one := range written {
		wait.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			var out bytes.Buffer
			if err := one.write(&out); err != nil {
				faults[i] = fmt.Errorf("%s: %w", one.name, err)
			}
			all[i] = folder.File{Name: one.name, Data: out.Bytes()}
		})
	}
	wait.Wait()
	return append(files, all...), errors.Join(append(faults, fault)...)
}

// output is a file to be written.
type output struct {
	name  string
	write func(io.Writer) error
}

// outputs are the plan's papers, tables and pictures.
func (b *batchRun) outputs(p *batch.Plan) []output {
	name := seen(strings.TrimSuffix(filepath.Base(b.list), filepath.Ext(b.list)))
	pdf := func(file, title string, pages func(*batch.Plan, string, shop.Paper) []*shop.Drawing) output {
		return output{file, func(w io.Writer) error { return shop.PDF(w, title, pages(p, title, b.paper)...) }}
	}
	all := []output{
		pdf("plan.pdf", name+": plan", picture.Plan),
		pdf("picklist.pdf", name+": pick list", picture.PickList),
		pdf("travellers.pdf", name, picture.Travellers),
		pdf("mill.pdf", name+": on the mill", picture.Mill),
		{"steps.csv", func(w io.Writer) error { return batch.WriteSteps(w, p) }},
		{"cuts.csv", func(w io.Writer) error { return batch.WriteCuts(w, p) }},
	}
	for i, d := range picture.Days(p, dayPicture) {
		all = append(all, output{fmt.Sprintf("day-%d.png", i+1), func(w io.Writer) error { return d.PNG(w, 130) }})
	}
	for _, c := range picture.Cuts(p) {
		file := fmt.Sprintf("sheet-%s-%.4gmm-%d", fileWord(c.Colour), c.Gauge, c.Number)
		all = append(
			all,
			output{file + ".dxf", func(w io.Writer) error { return dxf.Encode(w, c.DXF()) }},
			output{file + ".svg", c.Drawing(sheetPicture).SVG},
		)
	}
	return all
}

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"formbuck/buck/batch"
	"formbuck/buck/batch/picture"
	shop "formbuck/buck/paper/drawing"
	"formbuck/cmd/internal/folder"
	"formbuck/profile/dxf"
)

// write keeps what is done and writes the plan.
func (b *batchRun) write(ctx context.Context, p *batch.Plan) (folder.Report, error) {
	files, err := b.files(p)
	if err != nil {
		return folder.Report{}, err
	}
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

// files are the plan's files.
func (b *batchRun) files(p *batch.Plan) ([]folder.File, error) {
	name := strings.TrimSuffix(filepath.Base(b.list), filepath.Ext(b.list))
	files, fault := b.programs(p)
	add := func(file string, write func(io.Writer) error) error {
		var out bytes.Buffer
		if err := write(&out); err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		files = append(files, folder.File{Name: file, Data: out.Bytes()})
		return nil
	}
	pdf := func(file, title string, pages func(*batch.Plan, string, shop.Paper) []*shop.Drawing) error {
		return add(file, func(w io.Writer) error { return shop.PDF(w, title, pages(p, title, b.paper)...) })
	}
	errs := []error{
		fault,
		pdf("plan.pdf", name+": plan", picture.Plan),
		pdf("picklist.pdf", name+": pick list", picture.PickList),
		pdf("travellers.pdf", name, picture.Travellers),
		pdf("mill.pdf", name+": on the mill", picture.Mill),
		add("steps.csv", func(w io.Writer) error { return batch.WriteSteps(w, p) }),
		add("cuts.csv", func(w io.Writer) error { return batch.WriteCuts(w, p) }),
	}
	for i, d := range picture.Days(p, dayPicture) {
		errs = append(errs, add(fmt.Sprintf("day-%d.png", i+1), func(w io.Writer) error { return d.PNG(w, 130) }))
	}
	for _, c := range picture.Cuts(p) {
		file := fmt.Sprintf("sheet-%s-%.4gmm-%d", fileWord(c.Colour), c.Gauge, c.Number)
		errs = append(
			errs,
			add(file+".dxf", func(w io.Writer) error { return dxf.Encode(w, c.DXF()) }),
			add(file+".svg", c.Drawing(sheetPicture).SVG),
		)
	}
	return files, errors.Join(errs...)
}

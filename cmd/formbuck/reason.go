package main

import (
	"slices"
	"strings"

	"formbuck/buck/record"
	"formbuck/cmd/internal/folder"
)

// fileReason is why a file is not what it was.
type fileReason struct {
	File    string   `json:"file"`
	Pieces  []string `json:"pieces"`  // changed ones that it is of, by name and hand; none: it is of the whole job
	Because []string `json:"because"` // keys; of several for a file of the whole job it was not tried which does it
}

// reasons are the files that were written after a change, each with its reason: a file of a piece that changed has that
// piece's, which was found by trying; drawings, the sheath's layout, its programs and what else is of the whole job follow
// from all that changed.
func reasons(p *product, r folder.Report) []fileReason {
	all := []fileReason{}
	if p.Changes == nil || len(p.Changes.Changes) == 0 {
		return all
	}
	for _, file := range r.Written {
		one := fileReason{File: file, Pieces: []string{}}
		because := p.Changes.Changes
		for _, row := range p.Pieces {
			if file != row.File && file != row.Picture {
				continue
			}
			i := slices.IndexFunc(p.Changes.Outcomes, func(o record.Outcome) bool {
				return o.State != record.Good && o.State != record.Gone && o.Now.Name == row.Piece && o.Now.Hand == row.Hand
			})
			if i >= 0 {
				one.Pieces = append(one.Pieces, row.Piece+" "+row.Hand)
				because = p.Changes.Outcomes[i].Because
			}
		}
		for _, c := range because {
			one.Because = append(one.Because, c.What)
		}
		all = append(all, one)
	}
	return all
}

// standing says in a line that the plate stands, and which of its programs do; "" where no plate is named or nothing was
// made before.
func standing(p *product, r folder.Report) string {
	if p.Sheath == nil || p.Sheath.Plate == nil || p.Changes == nil || !p.Changes.Changed() {
		return ""
	}
	var stand []string
	for _, file := range r.Unchanged {
		if strings.HasSuffix(file, ".ngc") {
			stand = append(stand, file)
		}
	}
	if len(stand) == 0 {
		return ""
	}
	return "the plate stands, and so do " + strings.Join(stand, ", ")
}

// following says in a line which files beside those of changed pieces were written anew, and why; "" where there are none.
func following(p *product, r folder.Report) string {
	var files []string
	for _, f := range reasons(p, r) {
		if len(f.Pieces) == 0 {
			files = append(files, f.File)
		}
	}
	if len(files) == 0 {
		return ""
	}
	var why []string
	for _, c := range p.Changes.Changes {
		why = append(why, c.String())
	}
	return "written anew: " + strings.Join(files, ", ") + ", because " + strings.Join(why, " or ")
}

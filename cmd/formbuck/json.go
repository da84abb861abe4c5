package main

import (
	"bytes"
	"encoding/json"
	"fmt"

	"formbuck/buck/record"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// answerJSON writes v as one line of JSON. Keys come in the order in which v's type lists them.
func (a *app) answerJSON(v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return fmt.Errorf("cannot write the answer as JSON: %w", err)
	}
	_, err := a.out.Write(escapedJSON(b.Bytes()))
	if err != nil {
		return a.out.fault
	}
	return nil
}

// escapedJSON is one line of JSON with what a terminal would obey escaped: the encoder leaves in place what is above 0x7e.
func escapedJSON(line []byte) []byte {
	if !bytes.ContainsFunc(line, unseen) {
		return line
	}
	var b bytes.Buffer
	for _, r := range string(line) {
		if unseen(r) {
			fmt.Fprintf(&b, `\u%04x`, r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.Bytes()
}

// figure is a number as it stands in an answer.
func figure(x float64) float64 { return record.Rounded(x) }

func vector(v r3.Vec) [3]float64 { return [3]float64{figure(v.X), figure(v.Y), figure(v.Z)} }

func point(v r2.Vec) [2]float64 { return [2]float64{figure(v.X), figure(v.Y)} }

// box2 is a box in a drawing in an answer.
type box2 struct {
	Min [2]float64 `json:"min"`
	Max [2]float64 `json:"max"`
}

func boxOf2(b r2.Box) box2 { return box2{Min: point(b.Min), Max: point(b.Max)} }

// Package testdata embeds the demo knives: invented shapes, drawn by the generator beside it.
package testdata

import "embed"

// FS holds the demo drawings and variant files at its root.
//
//go:embed *.dxf *.toml
var FS embed.FS

package keep

import (
	_ "github.com/deadsy/sdfx/sdf"
	_ "github.com/deadsy/sdfx/render"
	_ "github.com/fogleman/fauxgl"
	_ "github.com/google/go-cmp/cmp"
	_ "github.com/hschendel/stl"
	_ "github.com/jedib0t/go-pretty/v6/table"
	_ "github.com/pelletier/go-toml/v2"
	_ "github.com/pelletier/go-toml/v2/unstable"
	_ "github.com/peterstace/simplefeatures/geom"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/spf13/cobra"
	_ "github.com/spf13/cobra/doc"
	_ "github.com/yofu/dxf"
	_ "gonum.org/v1/gonum/spatial/r2"
	_ "gonum.org/v1/gonum/spatial/r3"
	_ "pgregory.net/rapid"
	_ "golang.org/x/image/font/gofont/goregular"
	_ "golang.org/x/image/font/opentype"
	_ "golang.org/x/text/encoding/charmap"
)

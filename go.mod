module formbuck

go 1.26

require (
	github.com/deadsy/sdfx v0.0.0-20240627135407-f3e72b4570df
	github.com/fogleman/fauxgl v0.0.0-20200818143847-27cddc103802
	github.com/google/go-cmp v0.7.0
	github.com/hpinc/go3mf v0.24.2
	github.com/hschendel/stl v1.0.4
	github.com/jedib0t/go-pretty/v6 v6.8.3
	github.com/pelletier/go-toml/v2 v2.4.3
	github.com/rogpeppe/go-internal v1.16.0
	github.com/spf13/cobra v1.10.2
	github.com/yofu/dxf v0.0.0-20250806094206-f3988c7f0176
	golang.org/x/image v0.40.0
	golang.org/x/sys v0.43.0
	golang.org/x/text v0.37.0
	gonum.org/v1/gonum v0.17.0
	pgregory.net/rapid v1.3.0
)

require codeberg.org/go-pdf/fpdf v0.12.0

require (
	github.com/ajstarks/svgo v0.0.0-20211024235047-1546f124cd8b // indirect
	github.com/dhconnelly/rtreego v1.2.0 // indirect
	github.com/fogleman/simplify v0.0.0-20170216171241-d32f302d5046 // indirect
	github.com/golang/freetype v0.0.0-20170609003504-e2365dfdc4a0 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/llgcode/draw2d v0.0.0-20240627062922-0ed1ff131195 // indirect
	github.com/mattn/go-runewidth v0.0.16 // indirect
	github.com/peterstace/simplefeatures v0.50.0
	github.com/qmuntal/opc v0.7.12 // indirect
	github.com/rivo/uniseg v0.4.7 // indirect
	github.com/spf13/pflag v1.0.9 // indirect
	golang.org/x/tools v0.44.0 // indirect
)

package dxf

import (
	"github.com/yofu/dxf/block"
	"github.com/yofu/dxf/drawing"
	"github.com/yofu/dxf/format"
	"github.com/yofu/dxf/object"
	"github.com/yofu/dxf/table"
)

// Places of the sections in a drawing of github.com/yofu/dxf.
const (
	sectionTables  = 2
	sectionBlocks  = 3
	sectionObjects = 5
	tableRecords   = 8
)

// newSkeleton is an empty drawing with the parts that strict readers ask for and no others: the
// library's own has a second paper space without a layout and a dictionary without an owner.
func newSkeleton() *drawing.Drawing {
	d := drawing.New()
	d.Sections[sectionBlocks] = block.Blocks{block.NewBlock("*Model_Space", ""), block.NewBlock("*Paper_Space", "")}
	if tables, ok := d.Sections[sectionTables].(table.Tables); ok {
		records := table.NewTable("BLOCK_RECORD")
		records.Add(table.NewBlockRecord("*Model_Space"))
		records.Add(table.NewBlockRecord("*Paper_Space"))
		tables[tableRecords] = records
	}
	root := object.NewDictionary()
	styles, plain := object.NewAcDbDictionaryWDFLT(root)
	groups := &groupDictionary{owner: root}
	// An error would be a name given twice; there are but two.
	_ = root.AddItem("ACAD_PLOTSTYLENAME", styles)
	_ = root.AddItem("ACAD_GROUP", groups)
	d.Sections[sectionObjects] = object.Objects{root, styles, plain, groups}
	d.PlotStyle = plain
	for _, l := range d.Layers {
		l.SetPlotStyle(plain)
	}
	return d
}

// groupDictionary is the empty dictionary of groups.
type groupDictionary struct {
	handle int
	owner  *object.Dictionary
}

// IsObject is for object.Object.
func (g *groupDictionary) IsObject() bool { return true }

// Handle is the object's number in the file.
func (g *groupDictionary) Handle() int { return g.handle }

// SetHandle takes the next number.
func (g *groupDictionary) SetHandle(next *int) {
	g.handle = *next
	*next++
}

// Format writes the dictionary.
func (g *groupDictionary) Format(f format.Formatter) {
	f.WriteString(0, "DICTIONARY")
	f.WriteHex(5, g.handle)
	f.WriteHex(330, g.owner.Handle())
	f.WriteString(100, "AcDbDictionary")
	f.WriteInt(281, 1)
}

package picture

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math"
)

// Inputs is a digest of all that a picture of the parts is made from: the same program draws the same picture from the same
// inputs. It does not tell Draw from Views.
func Inputs(parts []Part, o Options) string {
	h := sha256.New()
	fmt.Fprintf(h, "%#v\n", o)
	var words []byte
	for _, p := range parts {
		fmt.Fprintf(h, "%q %#v %v\n", p.Name, p.Colour, p.Faint)
		if p.Mesh == nil {
			continue
		}
		words = words[:0]
		for _, n := range []int{len(p.Mesh.Vertices), len(p.Mesh.Triangles)} {
			words = binary.LittleEndian.AppendUint64(words, uint64(n))
		}
		for _, v := range p.Mesh.Vertices {
			for _, f := range [3]float64{v.X, v.Y, v.Z} {
				words = binary.LittleEndian.AppendUint64(words, math.Float64bits(f))
			}
		}
		for _, t := range p.Mesh.Triangles {
			for _, i := range t {
				words = binary.LittleEndian.AppendUint32(words, uint32(i))
			}
		}
		h.Write(words)
	}
	return hex.EncodeToString(h.Sum(nil))
}

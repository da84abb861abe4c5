package stl_test

import (
	"bytes"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"runtime/metrics"
	"testing"
	"time"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/stl"
)

// million is a knobbly ring of 1 008 200 triangles, about the size of a hand.
func million(b *testing.B) *mesh.Mesh {
	b.Helper()
	m := meshtest.Torus(60, 20, 710, 710)
	for i, v := range m.Vertices {
		m.Vertices[i].Z += 0.4 * math.Sin(v.X) * math.Cos(v.Y)
	}
	m, err := mesh.Gate(m)
	if err != nil {
		b.Fatal(err)
	}
	return m
}

// onDisk writes the mesh to a file and gives its path.
func onDisk(b *testing.B, encode func(io.Writer, *mesh.Mesh, string) error) string {
	b.Helper()
	var data bytes.Buffer
	if err := encode(&data, million(b), "ring"); err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "ring.stl")
	if err := os.WriteFile(path, data.Bytes(), 0o600); err != nil {
		b.Fatal(err)
	}
	return path
}

// decode reads the file once.
func decode(b *testing.B, path string) *mesh.Mesh {
	b.Helper()
	r, err := os.Open(path)
	if err != nil {
		b.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	file, err := stl.Decode(r)
	if err != nil {
		b.Fatal(err)
	}
	return file.Mesh
}

// run times work on the file and reports the most memory that the process held, in MB, sampled.
func run(b *testing.B, encode func(io.Writer, *mesh.Mesh, string) error, work func(path string)) {
	path := onDisk(b, encode)
	debug.FreeOSMemory()
	stop, peak := make(chan bool), make(chan uint64)
	go func() {
		var most uint64
		for {
			select {
			case <-stop:
				peak <- most
				return
			case <-time.After(2 * time.Millisecond):
				most = max(most, held())
			}
		}
	}()
	b.ResetTimer()
	for range b.N {
		work(path)
	}
	b.StopTimer()
	close(stop)
	b.ReportMetric(float64(<-peak)/1e6, "peak-MB")
}

// held is the memory that the process has from the system.
func held() uint64 {
	s := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(s)
	return s[0].Value.Uint64() - s[1].Value.Uint64()
}

// BenchmarkMillion reads a million triangles from disk and welds them; then it also looks whether
// they are closed and measures them; then it looks for every fault, self-intersections included; and
// the thinnest wall. Beside that, where it is installed, admesh reads the same file: "exact" connects
// the triangles and measures, which is the nearest to "measure" but without shells, fans and genus; "all"
// does what else it can, which leaves self-intersections out.
func BenchmarkMillion(b *testing.B) {
	b.Run("binary/read", func(b *testing.B) { run(b, stl.Encode, func(path string) { decode(b, path) }) })
	b.Run("binary/measure", func(b *testing.B) { run(b, stl.Encode, survey(b, mesh.Options{Quick: true})) })
	b.Run("binary/check", func(b *testing.B) { run(b, stl.Encode, survey(b, mesh.Options{})) })
	b.Run("binary/wall", func(b *testing.B) { run(b, stl.Encode, wall(b)) })
	b.Run("binary/admesh-exact", func(b *testing.B) { admesh(b, "--exact") })
	b.Run("binary/admesh-all", func(b *testing.B) { admesh(b) })
	b.Run("text/read", func(b *testing.B) { run(b, stl.EncodeText, func(path string) { decode(b, path) }) })
}

// wall reads a file and measures its thinnest wall.
func wall(b *testing.B) func(path string) {
	return func(path string) {
		if w, ok := decode(b, path).ThinnestWall(); !ok || w.Thickness < 30 || w.Thickness > 41 {
			b.Fatalf("%+v", w) // the ring's tube is 40 thick
		}
	}
}

// admesh runs the program of that name.
func admesh(b *testing.B, options ...string) {
	program, err := exec.LookPath("admesh")
	if err != nil {
		b.Skip("admesh is not installed")
	}
	path := onDisk(b, stl.Encode)
	connected := regexp.MustCompile(`Number of facets +: 1008200 +1008200\n(Facets with . disconnected edges? +: +0 +0\n){3}`)
	b.ResetTimer()
	for range b.N {
		if out, err := exec.Command(program, append(options, path)...).CombinedOutput(); err != nil || !connected.Match(out) {
			b.Fatalf("%v: %s", err, out)
		}
	}
}

func survey(b *testing.B, opts mesh.Options) func(path string) {
	return func(path string) {
		if s := decode(b, path).Survey(opts); !s.Closed || len(s.Problems) > 0 || s.Triangles != 1008200 || s.Genus[0] != 1 {
			b.Fatalf("%+v", s)
		}
	}
}

func BenchmarkMillionWrite(b *testing.B) {
	m := million(b)
	b.ResetTimer()
	for range b.N {
		if err := stl.Encode(io.Discard, m, "ring"); err != nil {
			b.Fatal(err)
		}
	}
}

package symbol

import (
	"bytes"
	"flag"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden pictures anew; look at what changed before committing them")

// golden compares text with testdata/NAME.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, got, 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err, "no golden picture; go test ./circuit/symbol -update writes it")
	if !bytes.Equal(want, got) {
		t.Errorf("%s is drawn differently; if that is meant, go test ./circuit/symbol -update", path)
	}
}

// goldenImage compares an image with testdata/NAME: rounding differs between machines, so one pixel in two hundred may be
// off by more than a shade.
func goldenImage(t *testing.T, name string, got *image.RGBA) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		var b bytes.Buffer
		require.NoError(t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, got))
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
		return
	}
	f, err := os.Open(path)
	require.NoError(t, err, "no golden picture; go test ./circuit/symbol -update writes it")
	defer f.Close()
	want, err := png.Decode(f)
	require.NoError(t, err)
	require.Equal(t, got.Bounds(), want.Bounds())
	off := 0
	b := got.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r1, g1, b1, _ := got.At(x, y).RGBA()
			r2, g2, b2, _ := want.At(x, y).RGBA()
			if apart(r1, r2) || apart(g1, g2) || apart(b1, b2) {
				off++
			}
		}
	}
	assert.LessOrEqual(t, off, b.Dx()*b.Dy()/200, "%s is drawn differently; if that is meant, go test ./circuit/symbol -update", path)
}

func apart(a, b uint32) bool {
	const shade = 24 << 8
	return a > b+shade || b > a+shade
}

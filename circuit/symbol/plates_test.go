package symbol

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"airpath/circuit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A plate shows every kind in its poses, row after row, on one picture.
const (
	plateScale = 5   // pixels to a grid step
	plateWidth = 200 // grid steps
)

// plate lays the kinds out and draws them; where says in which part of the picture each kind lies.
func plate(palette *Palette) (img *image.RGBA, where map[string]image.Rectangle) {
	look := Look{Palette: palette, Scale: plateScale, Detail: Bare}
	places := map[string]Point{}
	at, height := Point{X: 1, Y: 1}, 0.0
	for _, k := range circuit.Kinds() {
		box := drawPoses(&Recorder{}, k, look, at)
		if box.Max.X > plateWidth-1 {
			at = Point{X: 1, Y: at.Y + height}
			height = 0
			box = drawPoses(&Recorder{}, k, look, at)
		}
		places[k.Name] = at
		height = max(height, box.Height()+1)
		at.X = box.Max.X + 2
	}
	img = image.NewRGBA(image.Rect(0, 0, plateWidth*plateScale, int((at.Y+height+1)*plateScale)))
	fillImage(img, palette.Paper)
	r := NewRaster(img, plateScale, Point{})
	where = map[string]image.Rectangle{}
	for _, k := range circuit.Kinds() {
		box := drawPoses(r, k, look, places[k.Name])
		where[k.Name] = image.Rect(int(box.Min.X*plateScale), int(box.Min.Y*plateScale), int(box.Max.X*plateScale), int(box.Max.Y*plateScale)).Intersect(img.Bounds())
	}
	return img, where
}

// Every symbol, in every state, in every palette. Rounding differs between machines: of each symbol one pixel in a hundred
// may be off by more than a shade.
func TestPlatesHaveNotChanged(t *testing.T) {
	for _, palette := range palettes {
		t.Run(palette.Name, func(t *testing.T) {
			got, where := plate(palette)
			path := filepath.Join("testdata", "plate-"+palette.Name+".png")
			if *update {
				var b bytes.Buffer
				require.NoError(t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, got))
				require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
				return
			}
			f, err := os.Open(path)
			require.NoError(t, err, "no golden plate; go test ./circuit/symbol -update writes it")
			defer f.Close()
			want, err := png.Decode(f)
			require.NoError(t, err)
			require.Equal(t, got.Bounds(), want.Bounds())
			for _, k := range circuit.Kinds() {
				r := where[k.Name]
				off := 0
				for y := r.Min.Y; y < r.Max.Y; y++ {
					for x := r.Min.X; x < r.Max.X; x++ {
						r1, g1, b1, _ := got.At(x, y).RGBA()
						r2, g2, b2, _ := want.At(x, y).RGBA()
						if apart(r1, r2) || apart(g1, g2) || apart(b1, b2) {
							off++
						}
					}
				}
				assert.LessOrEqual(t, off, r.Dx()*r.Dy()/100, "%s in %s is drawn differently; if that is meant, go test ./circuit/symbol -update", k.Name, path)
			}
		})
	}
}

package symbol

import (
	"flag"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"airpath/circuit"

	"github.com/stretchr/testify/require"
)

var pictures = flag.String("pictures", "", "write large pictures of every symbol into this folder, to look at")

// Every symbol at three sizes on both papers; with -pictures they are kept, to be judged by eye.
func TestEverySymbolCanBePainted(t *testing.T) {
	for _, pal := range []*Palette{Light, Dark} {
		for _, scale := range []float64{4, 8, 20} {
			img := image.NewRGBA(image.Rect(0, 0, int(130*scale), int(180*scale)))
			fillImage(img, pal.Paper)
			r := NewRaster(img, scale, Point{})
			at, tall := Point{X: 1, Y: 1}, 0.0
			for _, k := range circuit.Kinds() {
				wide := drawPoses(&Recorder{}, k, Look{Palette: pal, Scale: scale}, Point{})
				if at.X+wide.Width() > 129 {
					at, tall = Point{X: 1, Y: at.Y + tall + 1.5}, 0
				}
				box := drawPoses(r, k, Look{Palette: pal, Scale: scale}, at)
				at.X += box.Width() + 2
				tall = max(tall, box.Height())
			}
			require.Less(t, at.Y+tall, 180.0, "the plate is too small for all kinds")
			if *pictures != "" {
				f, err := os.Create(filepath.Join(*pictures, pal.Name+"-"+decimal(scale)+".png"))
				require.NoError(t, err)
				require.NoError(t, png.Encode(f, img))
				require.NoError(t, f.Close())
			}
		}
	}
}

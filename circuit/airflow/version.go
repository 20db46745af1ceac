package airflow

import (
	"crypto/sha256"
	"embed"
	"fmt"
	"io"
	"io/fs"
	"runtime"
	"strings"
	"sync"
)

// The program's own text, so that what was worked out by other laws or another solver is never taken for this one's.
//
//go:embed *.go
var ownText embed.FS

// Version tells this program's air from any other's: it is another one as soon as anything in this package is changed, or on
// another sort of processor, whose rounding may differ.
var Version = sync.OnceValue(func() string { return runtime.GOARCH + " " + TextVersion(ownText) })

// TextVersion is a digest of a package's embedded Go files, its tests left out.
func TextVersion(text embed.FS) string {
	sum := sha256.New()
	names, _ := fs.Glob(text, "*.go") // sorted; the pattern is a good one
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		content, _ := text.ReadFile(name)
		fmt.Fprintf(sum, "%s %d\n", name, len(content))
		sum.Write(content)
	}
	return fmt.Sprintf("%x", sum.Sum(nil))
}

// Fingerprint writes down all numbers of the network that a healthy vehicle's air depends on, for a digest.
func (n *Network) Fingerprint(w io.Writer) {
	p := n.plan
	fmt.Fprintf(w, "%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n", p.detail, p.rooms, p.elements, p.pumps, p.latches, p.trips,
		p.gauges, p.contacts, p.sinks, p.wires, p.controls, p.rods, p.thrusts)
	fmt.Fprintf(w, "%q\n%q\n", p.owners, p.places)
	for i := range p.passages {
		fmt.Fprintf(w, "%s\n", p.passages[i].id)
	}
}

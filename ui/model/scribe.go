package model

import (
	"context"

	"airpath/circuit"
)

// A Scribe is an engine that writes papers about a case, each as a whole PDF file.
type Scribe interface {
	// Record is the work record; program is the name and version that it bears.
	Record(ctx context.Context, cs *circuit.Case, u Units, program string, progress func(done, total int)) ([]byte, error)
	// Chart is the whole troubleshooting tree that goes on from the case.
	Chart(ctx context.Context, cs *circuit.Case, u Units, progress func(done, total int)) ([]byte, error)
}

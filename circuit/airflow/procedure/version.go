package procedure

import (
	"embed"
	"sync"

	"airpath/circuit/airflow"
)

//go:embed *.go
var ownText embed.FS

// Version tells how this program carries procedures out from how any other does; see [airflow.Version].
var Version = sync.OnceValue(func() string { return airflow.TextVersion(ownText) })

//go:build !linux && !windows && !darwin

package sound

import (
	"errors"
	"io"
)

// Available says whether sound can be played.
func Available() error { return errors.New("on this system nothing is known that plays sound") }

// Open fails: see [Available].
func Open() (io.WriteCloser, error) { return nil, Available() }

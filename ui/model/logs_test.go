package model

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

func TestGaugeLogs(t *testing.T) {
	s := newSession(t, nil)
	p := s.Procedures()[0]
	dir := t.TempDir()
	path := filepath.Join(dir, "log.csv")
	assert.Error(t, s.AttachLog(p, path), "no such file")
	require.NoError(t, os.WriteFile(path, []byte("time [s],primary [psi]\n0,abc\n"), 0o644))
	err := s.AttachLog(p, path)
	require.Error(t, err)
	assert.Empty(t, s.Case().Logs)
	require.NoError(t, os.WriteFile(path, []byte("time [s],primary [psi]\n0,85\n1,86\n"), 0o644))
	require.NoError(t, s.AttachLog(p, path))
	require.Len(t, s.Case().Logs, 1)
	assert.Equal(t, "log1", s.Case().Logs[0].ID)
	assert.NotEmpty(t, s.Case().Logs[0].Data)

	back, err := circuit.ReadCase("case.toml", s.Text())
	require.NoError(t, err)
	require.NoError(t, ReadLogs(back, filepath.Join(dir, "case.toml")))
	assert.Equal(t, s.Case().Logs[0].Data, back.Logs[0].Data)
	require.NoError(t, os.Remove(path))
	assert.ErrorContains(t, ReadLogs(back, ""), "does not count")

	s.DropLog("log1")
	assert.Empty(t, s.Case().Logs)
	s.Undo()
	assert.Len(t, s.Case().Logs, 1)
}

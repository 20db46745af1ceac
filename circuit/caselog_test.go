package circuit

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const caseWithLog = `airpath_case = 1
circuit = "gritter"
title = "leaks"

[[log]]
file = "leak.csv" # at 1 Hz
procedure = "leak-down-released"
start = "12 s"
columns = ["gauge_primary", "-"]
`

func TestALogInACase(t *testing.T) {
	k, err := ReadCase("x.toml", []byte(caseWithLog))
	require.NoError(t, err)
	require.Len(t, k.Logs, 1)
	l := k.Logs[0]
	require.Equal(t, []any{"log1", "leak.csv", "leak-down-released", 12.0, "gauge_primary", "-"}, []any{l.ID, l.File, l.Procedure, l.Start.SI, l.Columns[0], l.Columns[1]})
	require.Equal(t, caseWithLog, string(WriteCase(k)), "written back as it was")

	for text, want := range map[string]string{
		"[log]\nfile = \"a\"\n":                       "[log] is one of several; write [[log]]",
		"[[log]]\nfile = \"a\"\n":                     `"procedure"`,
		"[[log]]\nprocedure = \"p\"\n":                `"file"`,
		"[[log]]\nfile=\"a\"\nprocedure=\"p\"\nx=1\n": "x",
		"[[log]]\nfile=\"a\"\nprocedure=\"p\"\nid=\"l\"\n[[log]]\nfile=\"a\"\nprocedure=\"p\"\nid=\"l\"\n": `the log id "l" is taken`,
	} {
		_, err := ReadCase("x.toml", []byte("airpath_case = 1\ncircuit = \"gritter\"\ntitle = \"t\"\n"+text))
		require.ErrorContains(t, err, want, text)
	}
}

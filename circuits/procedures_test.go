package circuits_test

import (
	"fmt"
	"strings"
	"testing"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuits"

	"github.com/stretchr/testify/require"
)

// proceduresGuide lists the tests of the library's truck in Markdown, with what each one reads.
func proceduresGuide(t *testing.T) string {
	t.Helper()
	c, err := circuits.Load("gritter")
	require.NoError(t, err)
	n, err := airflow.Compile(c)
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("| procedure | reading | the test, and the first of its readings so called | places | result |\n| --- | --- | --- | --- | --- |\n")
	for _, p := range procedure.For(n) {
		fmt.Fprintf(&b, "| `%s` | | **%s** | | |\n", p.ID, p.Title)
		var ids []string
		first := map[string]procedure.Reading{}
		places := map[string][]string{}
		for _, r := range p.Readings {
			if _, seen := first[r.ID]; !seen {
				ids = append(ids, r.ID)
				first[r.ID] = r
			}
			if r.Place != "" {
				places[r.ID] = append(places[r.ID], "`"+r.Place+"`")
			}
		}
		for _, id := range ids {
			at, form := strings.Join(places[id], ", "), string(first[id].Dimension)
			if few := 3; len(places[id]) > few {
				at = fmt.Sprintf("%s and %d more", strings.Join(places[id][:few], ", "), len(places[id])-few)
			}
			if first[id].Form == procedure.YesNo {
				form = "yes or no"
			}
			fmt.Fprintf(&b, "| | `%s` | %s | %s | %s |\n", id, first[id].Title, at, form)
		}
	}
	return b.String()
}

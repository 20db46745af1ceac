package airflow

import (
	"bufio"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"airpath/circuit"
)

// Circuits that were drawn once and were too much for the solver, as a failing draw of followAnyCircuit writes them: parts with
// what differs from their kind, lines with length and bore in m, faults, moves of a control (to, over so many seconds, seconds
// that go by). The engine runs at its rated speed throughout.

// told is a circuit in a few words.
func told(c *circuit.Circuit) string {
	var b strings.Builder
	for _, part := range c.Components {
		fmt.Fprintf(&b, "part %s %s", part.ID, part.Kind.Name)
		for _, p := range part.Kind.Params {
			if q, ok := part.Given[p.Name]; ok {
				fmt.Fprintf(&b, " %s=%v", p.Name, q.SI)
			}
		}
		b.WriteString("\n")
	}
	for _, l := range c.Lines {
		fmt.Fprintf(&b, "%s %s %s %s %v %v\n", l.Type, l.ID, l.From, l.To, l.Length.SI, l.Bore.SI)
	}
	return b.String()
}

func toldFaults(faults []Fault) string {
	var b strings.Builder
	for _, f := range faults {
		fmt.Fprintf(&b, "fault %s/%s=%v\n", f.Target, f.Mode, f.Severity)
	}
	return b.String()
}

// A drawn circuit with what is done to it.
type drawn struct {
	circuit *circuit.Circuit
	faults  []Fault
	moves   []drawnMove
}

type drawnMove struct {
	control           string
	to, over, seconds float64
}

// readDrawn reads what told, toldFaults and the moves of followAnyCircuit say.
func readDrawn(t *testing.T, text string) drawn {
	t.Helper()
	d := drawn{circuit: &circuit.Circuit{Name: "drawn", Title: "drawn", Class: "truck", Engine: circuit.Engine{
		Idle:  circuit.Quantity{Dimension: circuit.Speed, SI: 600.0 / 60},
		Rated: circuit.Quantity{Dimension: circuit.Speed, SI: 2000.0 / 60},
	}, Sheet: circuit.Sheet{Width: 500, Height: 500}}}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err, text)
		return v
	}
	port := func(s string) circuit.PortRef {
		component, port, ok := strings.Cut(s, ".")
		require.True(t, ok, s)
		return circuit.PortRef{Component: component, Port: port}
	}
	for lines := bufio.NewScanner(strings.NewReader(text)); lines.Scan(); {
		word := strings.Fields(lines.Text())
		if len(word) == 0 {
			continue
		}
		switch word[0] {
		case "part":
			kind, err := circuit.KindNamed(word[2])
			require.NoError(t, err)
			i := len(d.circuit.Components)
			part := &circuit.Component{ID: word[1], Name: "part", Kind: kind, Place: "board", Given: map[string]circuit.Quantity{},
				At: circuit.Point{X: float64(10 + 20*(i%20)), Y: float64(10 + 20*(i/20))}}
			for _, given := range word[3:] {
				name, value, _ := strings.Cut(given, "=")
				p, ok := kind.Param(name)
				require.True(t, ok, given)
				part.Given[name] = circuit.Quantity{Dimension: p.Dimension, Text: "drawn", SI: number(value)}
			}
			d.circuit.Components = append(d.circuit.Components, part)
		case "tube", "hose":
			d.circuit.Lines = append(d.circuit.Lines, &circuit.Line{
				ID: word[1], Name: word[1], Type: circuit.LineType(word[0]), From: port(word[2]), To: port(word[3]),
				Length: circuit.Quantity{Dimension: circuit.Length, SI: number(word[4])},
				Bore:   circuit.Quantity{Dimension: circuit.Length, SI: number(word[5])},
			})
		case "fault":
			said := strings.TrimPrefix(strings.TrimSpace(lines.Text()), "fault ")
			at := strings.LastIndex(said, "=")
			target, mode, ok := strings.Cut(said[:at], "/")
			require.True(t, ok, said)
			d.faults = append(d.faults, Fault{Target: target, Mode: mode, Severity: number(said[at+1:])})
		case "move":
			d.moves = append(d.moves, drawnMove{word[1], number(word[2]), number(word[3]), number(word[4])})
		default:
			require.Fail(t, "not a line of a drawn circuit", lines.Text())
		}
	}
	require.Empty(t, circuit.Check(d.circuit).Errors())
	return d
}

func TestDrawnCircuitsThatWereTooMuch(t *testing.T) {
	for _, one := range []struct {
		why, text string
		most      int // tries; an ordinary circuit as small takes some hundred
	}{
		{"a governor that lets its air out through a knob throttles for ever: its port 2 opens its own inlet further", `
			part part_0 compressor displacement=3.043e-05 head_volume=1e-05
			part part_1 governor
			part part_2 bellows flat_volume=0.0002001
			part part_3 trailer-supply-control
			hose line_0 part_0.2 part_1.1 0.01 0.00618
			hose line_1 part_0.4 part_2.1 0.615 0.001
			tube line_2 part_1.2 part_3.2 1 0.00239
			fault part_0/intake restricted=0.3
			move engine 33.333333333333336 1 2
			move part_3.knob 0 0.1 300
		`, 400},
		{"a relief valve behind a narrow line, hardly open: every third step overran the place where it opens, and the next two took it back", `
			part part_0 compressor displacement=4.211087383478396e-05 drive_ratio=0.2 clearance=0.01001996332327285 efficiency=0.36462562640614127
			part part_2 relief-valve span=7636.548016885613
			tube line_0 part_0.2 part_2.1 1 0.001
			move key 1.4156873723755257e-16 1 300
		`, 400},
	} {
		d := readDrawn(t, one.text)
		n, err := Compile(d.circuit)
		require.NoError(t, err)
		r, err := n.Start(d.faults, Scatter{})
		require.NoError(t, err)
		require.NoError(t, r.Set(Engine, 2000.0/60, 1))
		for _, m := range d.moves {
			require.NoError(t, r.Set(m.control, m.to, m.over), one.why)
			require.NoError(t, r.Advance(m.seconds), one.why)
		}
		tried, _ := r.Tries()
		require.Less(t, tried, one.most, "%s: %g s", one.why, r.Time())
	}
}

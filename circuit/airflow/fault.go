package airflow

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"airpath/circuit"
)

// A Fault is one part failing in one mode.
type Fault struct {
	Target   string  // component or line
	Mode     string  // a mode of its kind
	Severity float64 // SI; NaN means the typical one
}

// String writes a fault as ParseFault reads it, the severity as a plain SI number.
func (f Fault) String() string {
	if math.IsNaN(f.Severity) {
		return f.Target + "/" + f.Mode
	}
	return f.Target + "/" + f.Mode + "=" + strconv.FormatFloat(f.Severity, 'g', -1, 64)
}

// ParseFault reads "component/mode" or "component/mode=severity"; the severity has the mode's unit ("0.8 mm") or is a
// plain SI number. Without one it is the typical severity.
func ParseFault(c *circuit.Circuit, text string) (Fault, error) {
	target, rest, ok := strings.Cut(text, "/")
	if !ok {
		return Fault{}, fmt.Errorf("fault %q: want component/mode or component/mode=severity", text)
	}
	target = strings.TrimSpace(target)
	name, severity, given := strings.Cut(rest, "=")
	name = strings.TrimSpace(name)
	modes, err := modesOf(c, target)
	if err != nil {
		return Fault{}, fmt.Errorf("fault %q: %w", text, err)
	}
	mode, err := modeNamed(modes, target, name)
	if err != nil {
		return Fault{}, fmt.Errorf("fault %q: %w", text, err)
	}
	f := Fault{Target: target, Mode: name, Severity: mode.Severity.Typical}
	if !given {
		return f, nil
	}
	if v, err := strconv.ParseFloat(strings.TrimSpace(severity), 64); err == nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
		f.Severity = v
		return f, nil
	}
	q, err := circuit.ParseQuantity(severity, mode.Severity.Dimension)
	if err != nil {
		return Fault{}, fmt.Errorf("fault %q: %s: %w", text, mode.Severity.Means, err)
	}
	f.Severity = q.SI
	return f, nil
}

// Catalogue lists every fault that the circuit can have, at its typical severity: components in file order, then lines.
func Catalogue(c *circuit.Circuit) []Fault {
	var all []Fault
	for _, part := range c.Components {
		for _, m := range laws[part.Kind.Name].Modes {
			if m.Where == nil || m.Where(c, part.ID) {
				all = append(all, Fault{part.ID, m.Name, m.Severity.Typical})
			}
		}
	}
	for _, l := range c.Lines {
		for _, m := range lineLaws[l.Type].Modes {
			if m.Where == nil || m.Where(c, l.ID) {
				all = append(all, Fault{l.ID, m.Name, m.Severity.Typical})
			}
		}
	}
	return all
}

// ModeOf finds the mode of a fault.
func ModeOf(c *circuit.Circuit, f Fault) (Mode, error) {
	modes, err := modesOf(c, f.Target)
	if err != nil {
		return Mode{}, err
	}
	return modeNamed(modes, f.Target, f.Mode)
}

func modesOf(c *circuit.Circuit, target string) ([]Mode, error) {
	for _, part := range c.Components {
		if part.ID == target {
			return laws[part.Kind.Name].Modes, nil
		}
	}
	for _, l := range c.Lines {
		if l.ID == target {
			return lineLaws[l.Type].Modes, nil
		}
	}
	return nil, fmt.Errorf("no component or line %q in this circuit", target)
}

func modeNamed(modes []Mode, target, name string) (Mode, error) {
	var names []string
	for _, m := range modes {
		if m.Name == name {
			return m, nil
		}
		names = append(names, strconv.Quote(m.Name))
	}
	return Mode{}, fmt.Errorf("%s can't fail by %q; its modes are %s", target, name, strings.Join(names, ", "))
}

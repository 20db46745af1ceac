package circuit

import (
	"fmt"
	"strings"
)

// KindsGuide describes every kind in Markdown, for the guide to the format.
func KindsGuide() string {
	var b strings.Builder
	for _, k := range Kinds() {
		fmt.Fprintf(&b, "### %s\n\n%s: %s\n\n", k.Name, upperFirst(k.Title), k.About)
		b.WriteString("| port | carries | what for |\n| --- | --- | --- |\n")
		for _, p := range k.Ports {
			about := p.About
			switch {
			case p.Vent:
				about += "; open to the atmosphere, takes no line"
			case p.Optional && p.Medium == Air:
				about += "; may be left plugged"
			case p.Optional:
				about += "; may be left free"
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", p.Name, p.Medium, about)
		}
		b.WriteString("\n")
		if len(k.Params) > 0 {
			b.WriteString("| key | what it is | from | to | if not given |\n| --- | --- | --- | --- | --- |\n")
			for _, p := range k.Params {
				given := "must be given"
				if p.Default != "" {
					given = p.Default + " (" + p.Source + ")"
				}
				about := p.About
				if p.Below != "" {
					about += "; below `" + p.Below + "`"
				}
				fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", p.Name, about, p.Min, p.Max, given)
			}
			b.WriteString("\n")
		}
	}
	return b.String()
}

// QuantitiesGuide lists in Markdown what quantities there are and the units that they may be written in.
func QuantitiesGuide() string {
	var b strings.Builder
	b.WriteString("| quantity | units | note |\n| --- | --- | --- |\n")
	notes := map[Dimension]string{
		Pressure:     "a level on a gauge: pressure above the atmosphere",
		PressureSpan: "a difference of two pressures: a crack, a hysteresis",
		LengthSpan:   "a difference of two lengths, below zero where the second is the longer",
		Conductance:  "after ISO 6358: free air for each bar of absolute pressure before the part, when the flow is choked",
		Flow:         "of free air: 100 kPa, 20 °C",
		Ratio:        "a plain number means the share itself: 0.06 is 6 %",
	}
	for _, d := range Dimensions() {
		var names []string
		for _, u := range units[d] {
			if u.Name == "" {
				names = append(names, "none")
			} else {
				names = append(names, "`"+u.Name+"`")
			}
		}
		fmt.Fprintf(&b, "| %s | %s | %s |\n", d, strings.Join(names, " "), notes[d])
	}
	return b.String()
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

package circuit

import "regexp"

var caseLead = regexp.MustCompile(`(?m)^\s*airpath_case\s*=`)

// IsCase tells the text of a case file from that of a circuit file by the version that leads it.
func IsCase(text []byte) bool { return caseLead.Match(text) }

package circuit

import (
	"fmt"
	"strings"
)

// validID tells whether a text can be an id. Ids are parts of longer names ("tank.primary", "line/bore", "id/mode=2 mm"),
// so they hold none of the signs that those use.
func validID(s string) bool {
	if s == "" || len(s) > 64 || s[0] < 'a' || s[0] > 'z' || s == Atmosphere {
		return false
	}
	for _, r := range s {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '_' {
			return false
		}
	}
	return true
}

// idRule says what an id may be, with a near one that would do.
func idRule(s string) string {
	if s == Atmosphere {
		return "that word is taken: it is the air outside"
	}
	const rule = "ids are small letters, digits and _, and start with a letter"
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9' && b.Len() > 0:
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "_"):
			b.WriteByte('_')
		}
	}
	if near := strings.TrimRight(b.String(), "_"); validID(near) {
		return fmt.Sprintf("%s, such as %q", rule, near)
	}
	return rule
}

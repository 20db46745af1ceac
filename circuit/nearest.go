package circuit

// Nearest finds the first known name that begins as given, or the one that differs by the fewest typing slips, as long as
// they are few for its length; "" where none is near.
func Nearest(given string, known []string) string { return nearest(given, known) }

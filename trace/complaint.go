package trace

import (
	"slices"
	"strings"

	"airpath/circuit"
)

// A Complaint is what a driver's words are taken to mean. It is weak evidence: see [Meaning].
type Complaint struct {
	Heard   []Heard   // in the order of the words
	Unheard []Unheard // what was not understood
}

// Heard is one thing that was understood.
type Heard struct {
	Words   string // as they were said
	Meaning *Meaning
}

// Unheard is something that was said and not understood.
type Unheard struct {
	Words      string
	Suggestion string // a way to say it that is known: `did you mean "builds air slowly"?`
}

// A Meaning is one complaint of the trade and what it usually means. It says how readings would be on a vehicle whose driver
// says so; how readings and faults hang together is simulated and stands nowhere here. What moves no needle and makes no
// sound, such as water or a pull to one side, is told by kinds and modes.
type Meaning struct {
	ID     string
	Saying string // the plainest way to say it: "builds air slowly"
	Means  string // what it usually means, in words for a person

	phrases []string // each: groups of stems, all wanted, parted by blanks; a group is "build|fill"; "!word" must not be there
	signs   []sign
	blames  []blame
	side    string // "left" or "right": where the vehicle pulls to
}

// A sign is a reading that is off when a driver says so, told by what half of all drivers notice.
type sign struct {
	procedure, reading string // by id, at every place it is taken at; one that the vehicle lacks is passed over
	kind               string // only at components of this kind; "" means all
	times              float64
	by                 float64 // SI, signed: more (or less, where negative) than on the healthy vehicle; used where times is 0
	never              bool    // also where it is never reached
	yes                bool    // a yes or no reading, as its own judge says
}

// A blame names faults directly.
type blame struct {
	kind  string // "" means every kind; "line" every line
	modes []string
	drags bool // with a side: the brake is on too much, and pulls to its own side; else it does too little
}

// Meanings lists every complaint that is understood, in a fixed order.
func Meanings() []*Meaning { return meanings }

// Sayings of the complaints that are understood.
func Sayings() []string {
	out := make([]string, len(meanings))
	for i, m := range meanings {
		out[i] = m.Saying
	}
	return out
}

// parted splits a driver's words into clauses, each about one thing.
var parted = strings.NewReplacer(",", "\x00", ";", "\x00", ".", "\x00", ":", "\x00", "!", "\x00", "?", "\x00", "\n", "\x00", " and ", "\x00", " but ", "\x00", " then ", "\x00", " also ", "\x00", " plus ", "\x00")

// HearComplaint takes a driver's words apart. What is not understood is named, with the nearest that would be.
func HearComplaint(text string) Complaint {
	var c Complaint
	for _, clause := range strings.Split(parted.Replace(text), "\x00") {
		said := strings.Join(strings.Fields(clause), " ")
		if said == "" {
			continue
		}
		words := plainWords(said)
		found := false
		for _, m := range meanings {
			if !m.heardIn(words) {
				continue
			}
			found = true
			if !slices.ContainsFunc(c.Heard, func(h Heard) bool { return h.Meaning == m }) {
				c.Heard = append(c.Heard, Heard{said, m})
			}
		}
		if !found {
			c.Unheard = append(c.Unheard, Unheard{said, suggestSaying(words)})
		}
	}
	return c
}

// plainWords are small letters without apostrophes: "won't" is "wont".
func plainWords(text string) []string {
	text = strings.NewReplacer("'", "", "’", "", "-", " ", "/", " ", `"`, " ", "(", " ", ")", " ").Replace(strings.ToLower(text))
	return strings.Fields(text)
}

func (m *Meaning) heardIn(words []string) bool {
	return slices.ContainsFunc(m.phrases, func(p string) bool {
		for _, group := range strings.Fields(p) {
			stems, not := strings.CutPrefix(group, "!")
			there := slices.ContainsFunc(strings.Split(stems, "|"), func(stem string) bool { return hasStem(words, stem) })
			if there == not {
				return false
			}
		}
		return true
	})
}

// hasStem tells whether some word begins with a stem; a stem that ends in "." is a whole word, and "a_b" is two that follow
// one another.
func hasStem(words []string, stem string) bool {
	parts := strings.Split(stem, "_")
	for i := 0; i+len(parts) <= len(words); i++ {
		all := true
		for k, part := range parts {
			whole, isWhole := strings.CutSuffix(part, ".")
			if word := words[i+k]; isWhole && word != whole || !strings.HasPrefix(word, whole) {
				all = false
				break
			}
		}
		if all {
			return true
		}
	}
	return false
}

// suggestSaying finds the saying that has most words in common with what was said, slips of typing forgiven.
func suggestSaying(words []string) string {
	best, most := "", 0
	for _, m := range meanings {
		count := 0
		own := plainWords(m.Saying)
		for _, w := range words {
			if slices.Contains(common, w) {
				continue
			}
			if slices.Contains(own, w) {
				count += 3
			} else if len(w) > 3 && circuit.Nearest(w, own) != "" {
				count += 2
			}
		}
		if count > most {
			best, most = m.Saying, count
		}
	}
	if best == "" {
		return "it can be said as in " + circuit.Listed(Sayings())
	}
	return `did you mean "` + best + `"?`
}

// common words tell nothing of what is meant.
var common = []string{"the", "a", "an", "it", "is", "in", "on", "at", "to", "of", "with", "when", "while", "its", "too", "has", "does"}

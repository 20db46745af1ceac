package score

// A Record is what came of one vehicle.
type Record struct {
	Vehicle int      `json:"vehicle"`
	Truths  []string `json:"truths"`
	Oddity  string   `json:"oddity,omitempty"`     // something that the catalogue does not know
	Symptom string   `json:"symptom"`              // the reading that the vehicle came in with
	Dull    bool     `json:"dull,omitempty"`       // which showed nothing
	Quiet   int      `json:"quiet,omitempty"`      // faults drawn before that nobody would have noticed
	Broken  int      `json:"broken_off,omitempty"` // simulations of this vehicle that broke off and read as not done
	Games   []Game   `json:"games"`
}

// A Game is one vehicle played by one way of choosing what to do next.
type Game struct {
	Strategy string  `json:"strategy"`
	Ended    string  `json:"ended"`   // found, gave up, out of time
	Cleared  bool    `json:"cleared"` // a true fault was among the cleared at some step
	Wronged  bool    `json:"wronged"` // a true fault was said not to have given what was found at some step, and had
	Minutes  float64 `json:"minutes"` // of tests and repairs until the first right part was named
	Total    float64 `json:"total"`   // of everything
	Tests    int     `json:"tests"`   // procedures, before the first right part was named
	Verdicts int     `json:"verdicts"`

	// When testing was over and a part was named first:
	First      string  `json:"first"`       // what was named: component/mode, "nothing" or "something else"
	RightPart  bool    `json:"right_part"`  // a true part
	RightMode  bool    `json:"right_mode"`  // and its mode
	RightGroup bool    `json:"right_group"` // in the inseparable group that was named, if not itself
	Group      int     `json:"group"`       // how many faults were named together
	Truth      float64 `json:"truth"`       // probability that was given to the (first) true fault
	Log        float64 `json:"log"`         // minus its logarithm
	Brier      float64 `json:"brier"`
	Innocents  int     `json:"innocents"`
	Exonerated int     `json:"exonerated"` // of them, cleared altogether
	Acquitted  int     `json:"acquitted"`  // of the others, cleared of having given what was found

	GoodParts int  `json:"good_parts"` // fitted in vain
	Found     int  `json:"found"`      // true faults that were mended
	Seconds   bool `json:"seconds"`    // there was another to be named after the first was mended,
	Second    bool `json:"second"`     // and it was named first then

	Shuffled  int `json:"shuffled,omitempty"`  // cases put again with their findings shuffled,
	Disturbed int `json:"disturbed,omitempty"` // and how many verdicts were others then

	Said  []Saying `json:"said"`  // by every verdict
	Named int      `json:"named"` // which of them led to the first naming
	Cases []Filed  `json:"cases,omitempty"`
}

// A Saying is a probability that was stated of the leading suspect, and whether it was true.
type Saying struct {
	P        float64 `json:"p"`
	True     bool    `json:"true"`
	Case     int     `json:"case"`     // which of the cases of the game it was said of: a new one is begun after each of two repairs,
	Findings int     `json:"findings"` // and after how many of its findings
}

// first tells whether the first named part counts as right.
func (g *Game) first() bool { return g.RightPart || g.RightGroup }

// naming is what the verdict said that the first naming followed.
func (g *Game) naming() Saying { return g.Said[g.Named] }

package trace

import (
	"airpath/circuit"
	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/circuit/limit"
)

// A Verdict is what the findings of a case come to.
type Verdict struct {
	Complaint   Complaint // what the driver's words were taken to mean; weak evidence, see [MostComplaint]
	Fits        []LogFit  // the leading suspects fitted to the recorded logs of the case
	Suspects    []Suspect // what the findings leave standing, the most probable first
	Cleared     []Cleared // what they rule out, in the order of the catalogue
	Pairs       []Pair    // two faults that explain the findings together, the most probable first
	Alike       []Alike   // suspects that the findings so far can't tell apart
	Inseparable []Alike   // suspects that no listed procedure tells apart
	Next        []Next    // procedures worth doing, the best first; empty when Stop says why
	Further     []Next    // what would follow these, for whoever may not do just any procedure
	Limits      []LimitCheck
	// Explanations are the smallest sets of parts that explain every abnormal finding by paths alone, singles first; each
	// position lists faults that can stand in for one another.
	Explanations []Explanation
	TakesMore    string        // says so where no one part explains them all by paths, and what may explain them together; "" where one may
	Unexplained  []Unexplained // abnormal findings that no suspect explains
	Ignored      []Ignored     // findings that say nothing
	Disagree     []string      // where paths and numbers differ, and why
	Failed       []string      // simulations that broke off, whose faults the findings of that procedure neither accuse nor clear

	NoFault       float64 // probability that nothing is wrong
	SomethingElse float64 // probability of something that the catalogue does not know
	Stop          string  // why no further procedure is worth its minutes; "" while one is
	Rough         bool    // a first look, at mild, typical and severe faults only: see [Tracer.TraceInParts]
}

// Unknown tells whether something that the catalogue does not know is likelier than any one suspect, and likely enough to be spoken
// of: a fault of its own, a reading that is not as it was taken, or more than one fault.
func (v *Verdict) Unknown() bool {
	return v.SomethingElse >= 0.25 && (len(v.Suspects) == 0 || v.SomethingElse > v.Suspects[0].Probability)
}

// A Suspect is a fault that may be the matter.
type Suspect struct {
	Fault        airflow.Fault // with the severity that fits best
	Title        string        // "air dryer: the purge valve is stuck open"
	Probability  float64
	Severity     Severity
	Path         []Step // from the fault to the symptom; empty without an abnormal finding or a path
	PathWords    string
	Because      string
	Confirm      string
	Repair       string
	RepairTime   float64 // minutes
	Cautions     []string
	ExplainsAll  bool     // has a path to every abnormal finding
	Beside       bool     // it did not give what was found, but may be there besides, where nobody has looked
	ForFindings  []string // ids of the findings that speak for it, strongest first
	AgainstThose []string // and against it
}

// A Pair is two faults at once.
type Pair struct {
	Faults      [2]airflow.Fault // with the severities that fit best
	Titles      [2]string
	Probability float64
}

// Severity is an estimate: the middle, and the range that holds 90 % of the probability.
type Severity struct {
	Means          string
	Dimension      circuit.Dimension
	Low, Mid, High float64 // SI
}

// Cleared is a fault that the findings rule out. It is a class for display: the fault keeps its place in the list, and
// comes back if a finding changes.
type Cleared struct {
	Fault   airflow.Fault
	Title   string
	Because string
	By      []string // ids of the findings that did it, strongest first
	Path    []Step   // from the fault to where it would have shown
}

// Alike are suspects that can't be told apart: by the findings so far, each of which they fit about equally well, or by any
// listed reading at the severities that fit the findings.
type Alike struct {
	Faults    []airflow.Fault
	Titles    []string
	Weight    float64 // probability of the group
	Separable bool    // of those alike so far: some listed procedure tells them apart
}

// Next is a procedure worth doing.
type Next struct {
	Procedure *procedure.Procedure
	Title     string
	Minutes   float64
	Bits      float64 // expected information about which fault it is
	PerMinute float64
	Left      float64 // expected minutes until it is known what is the matter, if this is done first; 0 where that was not worked out
	Because   string
	Readings  []Wanted // those of its readings that tell most, the best first
}

// Wanted is a reading that is asked for.
type Wanted struct {
	ID, Place, Title string
}

// A LimitCheck holds a reading against a published limit.
type LimitCheck struct {
	Finding string // id
	Reading string // title
	Value   float64
	Text    string // as it was written
	Limit   limit.Limit
	Pass    bool
}

// An Explanation is one smallest set of faults that explains all abnormal findings.
type Explanation [][]airflow.Fault

// Unexplained is an abnormal finding that no suspect explains.
type Unexplained struct {
	Finding string
	Because string
}

// Ignored is a finding that was not used.
type Ignored struct {
	Finding string
	Because string
}

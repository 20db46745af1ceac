package procedure

// Minutes for one place of a round once one is there. Engineering judgement: an ear takes in a fitting in passing. A brush goes all round
// it, and the film is watched for some ten seconds, since the bubbles of a small leak are slow to grow.
const (
	hearing  = 0.1
	brushing = 0.4
)

// Leak tells whether the reading is air that comes out at a place, heard or seen in soap.
func (r *Reading) Leak() bool {
	return r.Form == YesNo && r.Place != "" && (r.Sense == Ear || r.Instrument == bySoap)
}

// Amiss tells whether a yes to the reading is out of order by itself, whatever the test.
func (r *Reading) Amiss() bool { return r.Leak() || r.Touched }

// Round tells whether the procedure is a round, whose places are gone to one by one: not all need be, and only those gone to take time.
func (p *Procedure) Round() bool { return p.each > 0 && len(p.Readings) > 8 }

// OneByOne tells whether each place of a round takes its own minutes: it is brushed with soap, or followed by hand. Whoever listens takes in
// what is nearby as well.
func (p *Procedure) OneByOne() bool { return p.Round() && p.each > hearing }

// EachPlace of a round takes so many minutes, once one is there.
func (p *Procedure) EachPlace() float64 { return p.each }

// Twin is the procedure with the same steps on the air that finds the same out by another sense: each reading here is of the same value as
// the one with the same index there. It is nil for none. Who has simulated the twin need not simulate this one.
func (p *Procedure) Twin() *Procedure { return p.twin }

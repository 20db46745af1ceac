package procedure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/limit"
)

// Evidence is what a finding says about a reading, in the reading's own terms.
type Evidence struct {
	Kind       circuit.ResultKind
	Low, High  float64 // SI; equal for a number, infinite where open, for Number, Range and WithinLimits
	Limits     []limit.Limit
	Instrument string
	Sigma      float64 // of one reading with the instrument that was used, 1 σ
	Gauge      string  // the dash gauge whose own error it shares, "" for none
	Level      bool    // that error is in it in full
	Judge      Judge   // for Yes and No
}

// Bind finds the procedure and the reading that a finding is about and reads its result, by the limits of the US where it
// says "within limits".
func Bind(all []*Procedure, f circuit.Finding) (*Procedure, *Reading, Evidence, error) {
	return BindUnder("US", all, f)
}

// BindUnder is Bind with the limits of a jurisdiction.
func BindUnder(jurisdiction string, all []*Procedure, f circuit.Finding) (*Procedure, *Reading, Evidence, error) {
	p, r, err := locate(all, f)
	if err != nil {
		return nil, nil, Evidence{}, err
	}
	if f.Instrument == bySoap {
		p, r = p.seen(r)
	}
	e, err := r.read(p, f, jurisdiction)
	if err != nil {
		return nil, nil, Evidence{}, err
	}
	return p, r, e, nil
}

// locate the reading. A finding without a procedure was marked on the sheet: its place and state say which round it was.
func locate(all []*Procedure, f circuit.Finding) (*Procedure, *Reading, error) {
	if f.Procedure == "" {
		return locateMark(all, f)
	}
	i := slices.IndexFunc(all, func(p *Procedure) bool { return p.ID == f.Procedure })
	if i < 0 {
		return nil, nil, fmt.Errorf("no procedure %q on this vehicle; %s", f.Procedure, circuit.Suggest(f.Procedure, ids(all)))
	}
	p := all[i]
	r, err := p.locate(f)
	if err != nil {
		return nil, nil, err
	}
	if err := p.agrees(f.State); err != nil {
		return nil, nil, err
	}
	return p, r, nil
}

// seen is where what was seen in soap belongs that was noted on a round by ear: on the round with soap in the same state, if there is one.
// So it is one observation, in whichever way it was noted.
func (p *Procedure) seen(r *Reading) (*Procedure, *Reading) {
	q := p.soaped
	if q == nil {
		return p, r
	}
	return q, &q.Readings[slices.IndexFunc(q.Readings, func(o Reading) bool { return o.Place == r.Place })]
}

func ids(all []*Procedure) []string {
	out := make([]string, len(all))
	for i, p := range all {
		out[i] = p.ID
	}
	return out
}

// locate a reading by id and place.
func (p *Procedure) locate(f circuit.Finding) (*Reading, error) {
	var named, at []*Reading
	var names, places []string
	for i := range p.Readings {
		r := &p.Readings[i]
		if !slices.Contains(names, r.ID) {
			names = append(names, r.ID)
		}
		if r.ID != f.Reading {
			continue
		}
		named = append(named, r)
		if r.Place != "" {
			places = append(places, r.Place)
		}
		if r.Place == f.Place || slices.Contains(r.Also, f.Place) {
			at = append(at, r)
		}
	}
	switch {
	case len(named) == 0:
		return nil, fmt.Errorf("%s has no reading %q; %s", p.ID, f.Reading, circuit.Suggest(f.Reading, names))
	case len(at) > 0:
		return at[0], nil
	case f.Place == "" && (len(named) == 1 || named[0].Either):
		return named[0], nil
	case f.Place == "":
		return nil, fmt.Errorf("%s: %q is taken at several places; say at which: %s", p.ID, f.Reading, circuit.Listed(places))
	case len(places) == 0:
		return nil, fmt.Errorf("%s: %q is not taken at one place among several; leave %q out", p.ID, f.Reading, f.Place)
	}
	return nil, fmt.Errorf("%s: %q is not taken at %q; %s", p.ID, f.Reading, f.Place, circuit.Suggest(f.Place, places))
}

// locateMark finds the one procedure that takes such a reading at the place in the state.
func locateMark(all []*Procedure, f circuit.Finding) (*Procedure, *Reading, error) {
	if f.Reading == "" {
		f.Reading = "hiss"
	}
	var candidates, fitting []*Procedure
	var last error
	for _, p := range all {
		if _, err := p.locate(f); err != nil {
			if slices.ContainsFunc(p.Readings, func(r Reading) bool { return r.ID == f.Reading }) {
				last = err
			}
			continue
		}
		candidates = append(candidates, p)
		if p.agrees(f.State) == nil {
			fitting = append(fitting, p)
		}
	}
	switch {
	case len(fitting) == 1:
		r, err := fitting[0].locate(f)
		return fitting[0], r, err
	case len(fitting) > 1:
		return nil, nil, fmt.Errorf("%q at %q may be from %s; name the procedure, or say more about the state of engine, compressor, park, pedal, hand valve and trailer supply", f.Reading, f.Place, circuit.Listed(ids(fitting)))
	case len(candidates) > 0:
		return nil, nil, fmt.Errorf("%q at %q is taken in no procedure with %s; %s", f.Reading, f.Place, sayState(f.State), circuit.Listed(ids(candidates)))
	case last != nil:
		return nil, nil, last
	}
	return nil, nil, fmt.Errorf("no procedure has a reading %q; name the procedure", f.Reading)
}

// agrees says where a finding's state contradicts the procedure's.
func (p *Procedure) agrees(s circuit.State) error {
	if s.Compressor == "loaded" && p.State.Engine == "off" {
		return fmt.Errorf("%s is done with the engine off, and the finding says that the compressor pumps; leave the state out, or name the procedure for that state", p.ID)
	}
	for _, c := range []struct{ what, is, should string }{
		{"the engine", s.Engine, p.State.Engine}, {"the compressor", s.Compressor, p.State.Compressor},
		{"the park", s.Park, p.State.Park}, {"the pedal", s.Pedal, p.State.Pedal},
		{"the hand valve", s.Hand, p.State.Hand}, {"the trailer supply", s.Trailer, p.State.Trailer},
	} {
		if c.is != "" && c.should != "" && c.is != c.should {
			return fmt.Errorf("%s is done with %s %s, and the finding says %s; leave the state out, or name the procedure for that state", p.ID, c.what, c.should, c.is)
		}
	}
	return nil
}

func sayState(s circuit.State) string {
	var parts []string
	for _, c := range [][2]string{{"engine", s.Engine}, {"compressor", s.Compressor}, {"park", s.Park}, {"pedal", s.Pedal}, {"hand valve", s.Hand}, {"trailer supply", s.Trailer}} {
		if c[1] != "" {
			parts = append(parts, c[0]+" "+c[1])
		}
	}
	if len(parts) == 0 {
		return "no state given"
	}
	return strings.Join(parts, ", ")
}

// read a result.
func (r *Reading) read(p *Procedure, f circuit.Finding, jurisdiction string) (Evidence, error) {
	e := Evidence{Kind: f.Result.Kind, Low: math.Inf(-1), High: math.Inf(1), Instrument: r.Instrument, Sigma: r.Sigma, Gauge: r.Gauge, Level: r.Level, Judge: r.Judge}
	if err := e.taken(r, f.Instrument); err != nil {
		return e, fmt.Errorf("%s: %w", p.ID, err)
	}
	where := fmt.Sprintf("%s: %q", p.ID, r.ID)
	if r.Place != "" {
		where += " at " + r.Place
	}
	switch f.Result.Kind {
	case circuit.NotSure:
		return e, nil
	case circuit.Yes, circuit.No:
		if r.Form != YesNo {
			return e, fmt.Errorf("%s is a figure, such as %q, not %q", where, example(r.Dimension), f.Result.Text)
		}
		return e, nil
	}
	if r.Form == YesNo {
		return e, fmt.Errorf("%s is a yes or a no, not %q", where, f.Result.Text)
	}
	switch f.Result.Kind {
	case circuit.Never:
		return e, nil
	case circuit.WithinLimits:
		e.Limits = r.LimitsIn(jurisdiction)
		if len(e.Limits) == 0 {
			return e, fmt.Errorf("%s: no published limit is known in %s; give the figure, such as %q", where, jurisdiction, example(r.Dimension))
		}
		e.Low, e.High = hull(e.Limits)
		return e, nil
	case circuit.Number, circuit.Range:
		low, high, err := f.Result.Bounds(r.Dimension)
		if err != nil {
			return e, fmt.Errorf("%s: %w", where, err)
		}
		e.Low, e.High = low, high
		return e, nil
	}
	return e, fmt.Errorf("%s: there is no result %q", where, f.Result.Kind)
}

func example(d circuit.Dimension) string {
	return strings.TrimSpace("12 " + circuit.UnitFor(d, "psi"))
}

// LimitsIn are the bounds in a jurisdiction: its own and its country's, or for a country without any those of its parts.
// Usual values bound nothing.
func (r *Reading) LimitsIn(jurisdiction string) []limit.Limit {
	if jurisdiction == "" {
		jurisdiction = "US"
	}
	country, _, _ := strings.Cut(jurisdiction, "/")
	var own, parts []limit.Limit
	for _, l := range r.Limits {
		switch {
		case l.Usual:
		case l.Jurisdiction == jurisdiction || l.Jurisdiction == country:
			own = append(own, l)
		case strings.HasPrefix(l.Jurisdiction, jurisdiction+"/"):
			parts = append(parts, l)
		}
	}
	if len(own) > 0 {
		return own
	}
	return parts
}

// hull of some limits: whoever says "within limits" had one of them in mind, and no more may be made of it than the widest.
func hull(limits []limit.Limit) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, l := range limits {
		low, high = math.Min(low, l.Low), math.Max(high, l.High)
	}
	return low, high
}

// instruments that a sense may use beside the reading's own.
var instruments = map[Sense][]string{
	Needle: {dashGauge, serviceGauge}, Ear: {byEar, bySoap}, Watch: {stopwatch}, Eye: {byEye}, Hand: {byHand},
}

// taken notes what a reading was taken with.
func (e *Evidence) taken(r *Reading, instrument string) error {
	if instrument == "" || instrument == r.Instrument {
		return nil
	}
	known := instruments[r.Sense]
	if !slices.Contains(known, r.Instrument) {
		known = append([]string{r.Instrument}, known...)
	}
	if !slices.Contains(known, instrument) {
		return fmt.Errorf("%q is not taken with %q; %s", r.ID, instrument, circuit.Suggest(instrument, known))
	}
	e.Instrument, e.Judge = instrument, r.JudgeWith(instrument)
	if instrument == serviceGauge {
		e.Gauge = ""
	}
	return nil
}

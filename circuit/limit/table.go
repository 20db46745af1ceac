package limit

import (
	"math"

	"airpath/circuit"
)

// Editions of the texts that were read.
const (
	edition121 = "49 CFR 571, amended through 12 Apr 2013"
	manual     = "model commercial driver manual"
)

var (
	powered     = []string{"truck", "bus", "combination"}
	single      = []string{"truck", "bus"}
	combination = []string{"combination"} // a vehicle with one trailer
)

// all limits. Values are written with the unit of their source.
var all = []Limit{
	// Building up.
	Limit{
		ID: "us-121-build-up", Quantity: BuildUp85To100, Jurisdiction: "US", Source: "49 CFR 571.121 S5.1.1", Edition: edition121, Known: Seen,
		Classes: powered, PerReservoir: true, Note: "at the engine maker's recommended maximum speed; 25 s times actual over required reservoir volume",
	}.most(circuit.Time, "25 s"),
	Limit{
		ID: "us-570-recharge", Quantity: BuildUp85To100, Jurisdiction: "US", Source: "49 CFR 570.57(a)(2)", Edition: "made since 1 Mar 1975", Known: Seen,
		Classes: powered, Note: "recharge of one full application",
	}.most(circuit.Time, "45 s"),
	Limit{
		ID: "us-manual-build-up", Quantity: BuildUp85To100, Jurisdiction: "US", Source: manual + " 5.3", Edition: "dual circuits, since 1975", Known: Seen,
		Classes: powered, Note: "at operating speed; longer if the tanks are larger than the minimum",
	}.most(circuit.Time, "45 s"),
	Limit{
		ID: "us-manual-initial-build", Quantity: BuildUp50To90, Jurisdiction: "US", Source: manual + " 2.1, 5.3", Known: Seen, Classes: powered,
	}.most(circuit.Time, "3 min"),
	Limit{
		ID: "bc-build-up", Quantity: BuildUp50To90, Jurisdiction: "Canada/British Columbia", Source: "driver manual p. 218", Known: Seen, Classes: powered,
	}.most(circuit.Time, "3 min"),
	Limit{
		ID: "ab-build-up", Quantity: BuildUp50To90, Jurisdiction: "Canada/Alberta", Source: "driver manual, step 4", Known: Seen, Classes: powered,
		Note: "at about 1200 rpm",
	}.most(circuit.Time, "3 min"),
	Limit{
		ID: "wa-build-up", Quantity: BuildUpTo80, Jurisdiction: "Australia/Western Australia", Source: "heavy vehicle regulations s. 334(1)(a)", Known: Seen,
		Classes: powered,
	}.most(circuit.Time, "5 min"),
	Limit{
		ID: "qc-compressor-holds", Quantity: CompressorHolds, Jurisdiction: "Canada/Quebec", Source: "C-24.2 r. 32 s. 166(4)", Known: Seen,
		Classes: powered, Note: "at idle, service brakes fully applied, park released",
	}.least(circuit.Pressure, "620 kPa"),
	Limit{
		ID: "un-13-fill-65", Quantity: FillTo65, Jurisdiction: "UN", Source: "UN R13 Annex 7, 2.3", Known: Memory, Classes: powered,
		Note: "without a trailer; from memory, the text could not be opened",
	}.most(circuit.Time, "3 min"),
	Limit{
		ID: "un-13-fill", Quantity: FillToWorking, Jurisdiction: "UN", Source: "UN R13 Annex 7, 2.4", Known: Memory, Classes: powered,
		Note: "without a trailer; from memory, the text could not be opened",
	}.most(circuit.Time, "6 min"),

	// The governor.
	Limit{
		ID: "us-121-cut-in-truck", Quantity: CutIn, Jurisdiction: "US", Source: "49 CFR 571.121 S5.1.1.1", Edition: edition121, Known: Seen, Classes: []string{"truck"},
	}.least(circuit.Pressure, "100 psi"),
	Limit{
		ID: "us-121-cut-in-bus", Quantity: CutIn, Jurisdiction: "US", Source: "49 CFR 571.121 S5.1.1.1", Edition: edition121, Known: Seen, Classes: []string{"bus"},
	}.least(circuit.Pressure, "85 psi"),
	Limit{
		ID: "us-570-cut-in", Quantity: CutIn, Jurisdiction: "US", Source: "49 CFR 570.57(a)(4)", Known: Seen, Classes: powered, Note: "unless the maker says otherwise",
	}.least(circuit.Pressure, "80 psi"),
	Limit{
		ID: "us-manual-cut-in", Quantity: CutIn, Jurisdiction: "US", Source: manual + " 5.1, 5.3", Known: Seen, Classes: powered, Usual: true,
	}.between(circuit.Pressure, "100 psi", "100 psi"),
	Limit{
		ID: "on-cut-in", Quantity: CutIn, Jurisdiction: "Canada/Ontario", Source: "driver handbook 6", Known: Seen, Classes: powered,
	}.between(circuit.Pressure, "80 psi", "145 psi"),
	Limit{
		ID: "bc-cut-in", Quantity: CutIn, Jurisdiction: "Canada/British Columbia", Source: "driver manual p. 218", Known: Seen, Classes: powered,
	}.least(circuit.Pressure, "80 psi"),
	Limit{
		ID: "us-570-cut-out", Quantity: CutOut, Jurisdiction: "US", Source: "49 CFR 570.57(a)(4)", Known: Seen, Classes: powered, Note: "unless the maker says otherwise",
	}.most(circuit.Pressure, "135 psi"),
	Limit{
		ID: "us-manual-cut-out", Quantity: CutOut, Jurisdiction: "US", Source: manual + " 5.1, 5.3", Known: Seen, Classes: powered, Usual: true,
	}.between(circuit.Pressure, "125 psi", "125 psi"),
	Limit{
		ID: "us-manual-cut-out-newer", Quantity: CutOut, Jurisdiction: "US", Source: manual + " 2.1, 11", Edition: "newer wording", Known: Seen, Classes: powered, Usual: true,
	}.between(circuit.Pressure, "120 psi", "140 psi"),
	Limit{
		ID: "ca-cut-out", Quantity: CutOut, Jurisdiction: "US/California", Source: "commercial driver handbook", Known: Seen, Classes: powered,
	}.most(circuit.Pressure, "130 psi"),
	Limit{
		ID: "on-cut-out", Quantity: CutOut, Jurisdiction: "Canada/Ontario", Source: "driver handbook 6", Known: Seen, Classes: powered,
	}.between(circuit.Pressure, "80 psi", "145 psi"),
	Limit{
		ID: "bc-cut-out", Quantity: CutOut, Jurisdiction: "Canada/British Columbia", Source: "driver manual p. 218", Known: Seen, Classes: powered,
	}.between(circuit.Pressure, "105 psi", "135 psi"),

	// Losing air: a single vehicle first, then a towing vehicle with a towed one.
	Limit{
		ID: "us-570-leak-released", Quantity: LeakReleased, Jurisdiction: "US", Source: "49 CFR 570.57(a)(5)", Known: Seen, Classes: single, Note: "single vehicle; engine off",
	}.most(circuit.Rate, "2 psi/min"),
	Limit{
		ID: "us-570-leak-applied", Quantity: LeakApplied, Jurisdiction: "US", Source: "49 CFR 570.57(a)(6)", Known: Seen, Classes: single, Note: "single vehicle; engine off, service fully applied",
	}.most(circuit.Rate, "3 psi/min"),
	Limit{
		ID: "on-leak-applied", Quantity: LeakApplied, Jurisdiction: "Canada/Ontario", Source: "driver handbook 6", Edition: "class D", Known: Seen, Classes: single, Note: "single vehicle; printed beside 3 psi",
	}.most(circuit.Rate, "21 kPa/min"),
	Limit{
		ID: "qc-leak-applied", Quantity: LeakApplied, Jurisdiction: "Canada/Quebec", Source: "C-24.2 r. 32 s. 166(5)", Known: Seen, Classes: single, Note: "single vehicle; a major defect above",
	}.most(circuit.Rate, "40 kPa/min"),
	Limit{
		ID: "us-570-leak-released-combination", Quantity: LeakReleased, Jurisdiction: "US", Source: "49 CFR 570.57(a)(5)", Known: Seen, Classes: combination, Note: "two units; 1 psi/min more for each further one",
	}.most(circuit.Rate, "3 psi/min"),
	Limit{
		ID: "us-570-leak-applied-combination", Quantity: LeakApplied, Jurisdiction: "US", Source: "49 CFR 570.57(a)(6)", Known: Seen, Classes: combination, Note: "two units; 1 psi/min more for each further one",
	}.most(circuit.Rate, "4 psi/min"),
	Limit{
		ID: "on-leak-applied-combination", Quantity: LeakApplied, Jurisdiction: "Canada/Ontario", Source: "driver handbook 6", Edition: "class A", Known: Seen, Classes: combination, Note: "printed beside 4 psi",
	}.most(circuit.Rate, "28 kPa/min"),
	Limit{
		ID: "qc-leak-applied-combination", Quantity: LeakApplied, Jurisdiction: "Canada/Quebec", Source: "C-24.2 r. 32 s. 166(5)", Known: Seen, Classes: combination, Note: "two vehicles; 62 kPa/min for three; a major defect above",
	}.most(circuit.Rate, "48 kPa/min"),

	// What is kept in reserve.
	Limit{
		ID: "us-570-application", Quantity: ApplicationDrop, Jurisdiction: "US", Source: "49 CFR 570.57(a)(1)", Known: Seen, Classes: powered,
	}.most(circuit.Ratio, "20 %"),
	Limit{
		ID: "wa-applications", Quantity: ApplicationsLeft, Jurisdiction: "Australia/Western Australia", Source: "heavy vehicle regulations s. 334(1)(b)", Known: Seen,
		Classes: powered, Note: "of cut-out pressure",
	}.least(circuit.Ratio, "50 %"),
	Limit{
		ID: "us-121-reservoirs", Quantity: ReservoirVolume, Jurisdiction: "US", Source: "49 CFR 571.121 S5.1.2.1", Edition: edition121, Known: Seen, Classes: single,
		Note: "service and supply reservoirs; chambers by Table V or as they are, whichever is lower",
	}.least(circuit.Ratio, "12"),
	Limit{
		ID: "us-121-reservoirs-trailer", Quantity: ReservoirVolume, Jurisdiction: "US", Source: "49 CFR 571.121 S5.2.1.1", Edition: edition121, Known: Seen, Classes: []string{"trailer"},
		Note: "service reservoirs",
	}.least(circuit.Ratio, "8"),

	// Warning, springs, safety valve, lamps, gauges.
	Limit{
		ID: "us-121-warning", Quantity: WarningAt, Jurisdiction: "US", Source: "49 CFR 571.121 S5.1.5", Edition: edition121, Known: Seen, Classes: powered, Note: "active below this",
	}.least(circuit.Pressure, "60 psi"),
	Limit{
		ID: "us-570-warning", Quantity: WarningAt, Jurisdiction: "US", Source: "49 CFR 570.57(a)(3)", Edition: "vehicles built to FMVSS 121", Known: Seen, Classes: powered,
	}.least(circuit.Pressure, "60 psi"),
	Limit{
		ID: "us-manual-warning", Quantity: WarningAt, Jurisdiction: "US", Source: manual + " 5.1.14, 5.3", Edition: "before 2022", Known: Seen, Classes: powered,
	}.least(circuit.Pressure, "60 psi"),
	Limit{
		ID: "us-manual-warning-newer", Quantity: WarningAt, Jurisdiction: "US", Source: manual + " 11", Edition: "2022 and later", Known: Seen, Classes: powered, Note: "or the maker's level",
	}.least(circuit.Pressure, "55 psi"),
	Limit{
		ID: "bc-warning", Quantity: WarningAt, Jurisdiction: "Canada/British Columbia", Source: "driver manual p. 218", Known: Seen, Classes: powered,
	}.least(circuit.Pressure, "60 psi"),
	Limit{
		ID: "qc-warning", Quantity: WarningAt, Jurisdiction: "Canada/Quebec", Source: "C-24.2 r. 32 s. 166(10)", Known: Seen, Classes: powered,
	}.least(circuit.Pressure, "380 kPa"),
	Limit{
		ID: "au-warning", Quantity: WarningAt, Jurisdiction: "Australia", Source: "inspection text, ADR 35", Edition: "built to ADR 35", Known: Seen, Classes: powered,
	}.least(circuit.Pressure, "420 kPa"),
	Limit{
		ID: "us-manual-springs", Quantity: SpringsSetAt, Jurisdiction: "US", Source: manual + " 5.3, 6", Known: Seen, Classes: powered,
	}.between(circuit.Pressure, "20 psi", "45 psi"),
	Limit{
		ID: "ab-springs", Quantity: SpringsSetAt, Jurisdiction: "Canada/Alberta", Source: "driver manual, step 3", Known: Seen, Classes: powered,
	}.between(circuit.Pressure, "20 psi", "45 psi"),
	Limit{
		ID: "us-121-held-off", Quantity: HeldOffAt, Jurisdiction: "US", Source: "49 CFR 571.121 S5.8.3", Edition: edition121, Known: Derived,
		Note: "no drag while the supply line is at this or above; written for trailers",
	}.most(circuit.Pressure, "70 psi"),
	Limit{
		ID: "un-13-springs", Quantity: SpringsBeginToAct, Jurisdiction: "UN", Source: "UN R13 Annex 8, 2", Known: Seen, Classes: powered,
	}.most(circuit.Ratio, "80 %"),
	Limit{
		ID: "us-manual-safety-valve", Quantity: SafetyValveAt, Jurisdiction: "US", Source: manual + " 5.1.4", Known: Seen, Usual: true,
	}.between(circuit.Pressure, "150 psi", "150 psi"),
	Limit{
		ID: "us-121-stop-lamps", Quantity: StopLampAt, Jurisdiction: "US", Source: "49 CFR 571.121 S5.1.7", Edition: edition121, Known: Seen,
	}.most(circuit.Pressure, "6 psi"),
	Limit{
		ID: "us-121-gauge", Quantity: GaugeError, Jurisdiction: "US", Source: "49 CFR 571.121 S5.1.4", Edition: edition121, Known: Seen, Classes: powered,
	}.between(circuit.Ratio, "-7 %", "7 %"),

	// A trailer that is lost.
	Limit{
		ID: "us-393-trailer-supply", Quantity: TrailerSupplyShutsAt, Jurisdiction: "US", Source: "49 CFR 393.43", Known: Memory, Classes: combination, Note: "from memory",
	}.between(circuit.Pressure, "20 psi", "45 psi"),
	Limit{
		ID: "us-manual-trailer-supply", Quantity: TrailerSupplyShutsAt, Jurisdiction: "US", Source: manual + " 5.3, 6", Known: Seen, Classes: combination,
	}.between(circuit.Pressure, "20 psi", "45 psi"),
	Limit{
		ID: "bc-trailer-supply", Quantity: TrailerSupplyShutsAt, Jurisdiction: "Canada/British Columbia", Source: "driver manual p. 218", Known: Seen, Classes: combination,
		Note: "on the higher gauge",
	}.between(circuit.Pressure, "20 psi", "45 psi"),
	Limit{
		ID: "ab-trailer-torn-off", Quantity: TornOffAt, Jurisdiction: "Canada/Alberta", Source: "driver manual, step 2", Known: Seen, Classes: combination,
		Note: "both lines off: 40 to 60 psi or higher; other places test by bleeding, and want 20 to 45 psi",
	}.least(circuit.Pressure, "40 psi"),
	Limit{
		ID: "qc-tractor-keeps", Quantity: TractorKeeps, Jurisdiction: "Canada/Quebec", Source: "C-24.2 r. 32 s. 166(6)", Known: Seen, Classes: combination,
	}.least(circuit.Pressure, "138 kPa"),

	// By hand at the slack adjuster.
	Limit{
		ID: "us-manual-slack", Quantity: SlackTravel, Jurisdiction: "US", Source: manual + " 5.3", Known: Memory, Usual: true, Note: "about an inch; from memory",
	}.between(circuit.Length, "1 in", "1 in"),

	// How fast the brakes come on and off.
	Limit{
		ID: "us-121-apply", Quantity: ApplyTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.3.3.1(a)", Edition: edition121, Known: Seen, Classes: powered,
	}.most(circuit.Time, "0.45 s"),
	Limit{
		ID: "us-121-apply-towing", Quantity: ApplyTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.3.3.1(a)", Edition: edition121, Known: Seen, Classes: []string{"towing trailer"},
	}.most(circuit.Time, "0.50 s"),
	Limit{
		ID: "us-121-apply-dolly", Quantity: ApplyTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.3.3.1(a)", Edition: edition121, Known: Seen, Classes: []string{"dolly"},
	}.most(circuit.Time, "0.55 s"),
	Limit{
		ID: "us-121-apply-trailer", Quantity: ApplyTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.3.3.1(a)", Edition: edition121, Known: Seen, Classes: []string{"trailer"},
	}.most(circuit.Time, "0.60 s"),
	Limit{
		ID: "us-121-release", Quantity: ReleaseTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.3.4.1(a)", Edition: edition121, Known: Seen, Classes: powered,
	}.most(circuit.Time, "0.55 s"),
	Limit{
		ID: "us-121-release-towing", Quantity: ReleaseTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.3.4.1(a)", Edition: edition121, Known: Seen, Classes: []string{"towing trailer"},
	}.most(circuit.Time, "1.00 s"),
	Limit{
		ID: "us-121-release-dolly", Quantity: ReleaseTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.3.4.1(a)", Edition: edition121, Known: Seen, Classes: []string{"dolly"},
	}.most(circuit.Time, "1.10 s"),
	Limit{
		ID: "us-121-release-trailer", Quantity: ReleaseTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.3.4.1(a)", Edition: edition121, Known: Seen, Classes: []string{"trailer"},
	}.most(circuit.Time, "1.20 s"),
	Limit{
		ID: "un-13-response", Quantity: ResponseTime, Jurisdiction: "UN", Source: "UN R13 Annex 6, 2.4", Known: Seen, Classes: powered, Note: "pedal down in 0.2 s; rounded to 0.1 s before it is compared",
	}.most(circuit.Time, "0.6 s"),
	Limit{
		ID: "us-121-park", Quantity: ParkTime, Jurisdiction: "US", Source: "49 CFR 571.121 S5.6.3.3", Edition: edition121, Known: Seen,
	}.most(circuit.Time, "3 s"),
}

// most bounds a limit from above.
func (l Limit) most(d circuit.Dimension, high string) Limit {
	l.Dimension, l.Low, l.High = d, math.Inf(-1), circuit.MustQuantity(high, d).SI
	return l
}

// least bounds it from below.
func (l Limit) least(d circuit.Dimension, low string) Limit {
	l.Dimension, l.Low, l.High = d, circuit.MustQuantity(low, d).SI, math.Inf(1)
	return l
}

// between bounds it on both sides.
func (l Limit) between(d circuit.Dimension, low, high string) Limit {
	l.Dimension, l.Low, l.High = d, circuit.MustQuantity(low, d).SI, circuit.MustQuantity(high, d).SI
	return l
}

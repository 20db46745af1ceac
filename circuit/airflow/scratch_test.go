package airflow

import (
	"fmt"
	"os"
	"testing"

	"airpath/circuit"
	"airpath/circuits"
)

func TestScratchHunt(t *testing.T) {
	name := os.Getenv("VEH2")
	if name == "" {
		return
	}
	c, _ := circuits.Load(name)
	n, _ := Compile(c)
	var fs []Fault
	if os.Getenv("FAULT") != "" {
		f, err := ParseFault(c, os.Getenv("FAULT"))
		if err != nil {
			t.Fatal(err)
		}
		fs = append(fs, f)
	}
	r, _ := n.Start(fs, Scatter{})
	r.Set(Key, 1, 0)
	r.Set(Engine, c.Engine.Rated.SI, 1)
	r.Until(900, Event{Gauge: n.Gauges()[0], Level: 583958, Rising: true})
	fmt.Println("low at", r.Time())
	r.Set("knob", 1, 0.1)
	last := 0
	gov := cutOutOf(n)
	pf := os.Getenv("PF")
	for i := 0; i < 400; i++ {
		r.Advance(1)
		tr, _ := r.Tries()
		if tr-last > 20 {
			fmt.Printf("%.1f tries %d  11 %.3f 12 %.3f 2 %.3f gov %v h %g\n", r.Time(), tr-last, toPSI(r.Pressure(pf+".11")), toPSI(r.Pressure(pf+".12")), toPSI(r.Pressure(pf+".2")), r.Latch(gov), r.h)
		}
		last = tr
		if r.Latch(gov) {
			break
		}
	}
	tr, _ := r.Tries()
	fmt.Println("end", r.Time(), tr)
	r.Set(Engine, 0, 1)
	for i := 0; i < 200; i++ {
		r.Advance(1)
		tr, _ := r.Tries()
		if tr-last > 20 {
			fmt.Printf("%.1f tries %d  11 %.3f 12 %.3f 2 %.3f\n", r.Time(), tr-last, toPSI(r.Pressure(pf+".11")), toPSI(r.Pressure(pf+".12")), toPSI(r.Pressure(pf+".2")))
		}
		last = tr
	}
	_ = circuit.PSI
	fmt.Println("end", r.Time(), tr)
}

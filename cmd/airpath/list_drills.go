package main

import (
	"fmt"

	"airpath/circuits"
	"airpath/trace/drill"
)

type listedDrill struct {
	Drill      string `json:"drill"`
	Title      string `json:"title"`
	Circuit    string `json:"circuit"`
	Level      string `json:"level"`
	Complaint  string `json:"complaint"`
	Parts      int    `json:"parts"`
	Procedures int    `json:"procedures"`
	Hints      bool   `json:"hints"`
}

// listDrills lists the library's exercises. Of the keys it tells the levels alone.
func (p *program) listDrills(asJSON bool) error {
	list := []listedDrill{}
	for _, name := range circuits.Drills() {
		e, err := drill.ReadExercise(name, circuits.Drill(name))
		if err != nil {
			return err
		}
		k, err := drill.ReadKey(name, circuits.DrillKey(name))
		if err != nil {
			return err
		}
		list = append(list, listedDrill{name, e.Title, e.Circuit, k.Difficulty.Level, e.Complaint, e.Parts, len(e.Allowed), e.Hints})
	}
	if asJSON {
		return p.printJSON(struct {
			Drills []listedDrill `json:"drills"`
		}{list})
	}
	var t table
	t.row("EXERCISE", "LEVEL", "CIRCUIT", "PARTS", "PROCEDURES", "COMPLAINT")
	for _, l := range list {
		t.row(l.Drill, l.Level, l.Circuit, fmt.Sprint(l.Parts), fmt.Sprint(l.Procedures), l.Complaint)
	}
	t.print(p.out)
	return nil
}

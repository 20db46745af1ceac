package model

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"airpath/circuit"
	"airpath/circuit/airflow/procedure"
	"airpath/trace/gaugelog"
)

// AttachLog makes a gauge log a part of the case: a CSV file of time and pressures that was recorded while a test was done.
// The error says what is wrong with the file, and what would be right.
func (s *Session) AttachLog(p *procedure.Procedure, path string) error {
	path = Expand(path)
	if path == "" {
		return fmt.Errorf("no file named: type the path of a CSV file")
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	if _, err := gaugelog.Read(path, data); err != nil {
		return err
	}
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	s.change("Gauge log added: "+filepath.Base(path), func(w *work) {
		w.file.Logs = append(w.file.Logs, circuit.Log{ID: freeLog(w.file), File: path, Procedure: p.ID, Data: data})
	})
	return nil
}

func freeLog(cs *circuit.Case) string {
	for n := len(cs.Logs) + 1; ; n++ {
		id := fmt.Sprintf("log%d", n)
		if !slices.ContainsFunc(cs.Logs, func(l circuit.Log) bool { return l.ID == id }) {
			return id
		}
	}
}

// DropLog takes a gauge log out of the case; the file stays.
func (s *Session) DropLog(id string) {
	s.change("Gauge log taken out", func(w *work) {
		w.file.Logs = slices.DeleteFunc(w.file.Logs, func(l circuit.Log) bool { return l.ID == id })
	})
}

// ReadLogs reads the files of a case's gauge logs, which lie beside the case. What can't be read is told, and counts for nothing.
func ReadLogs(cs *circuit.Case, casePath string) error {
	var wrong []string
	for i := range cs.Logs {
		l := &cs.Logs[i]
		file := l.File
		if !filepath.IsAbs(file) && casePath != "" {
			file = filepath.Join(filepath.Dir(casePath), file)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			wrong = append(wrong, err.Error())
			continue
		}
		l.Data = data
	}
	if len(wrong) > 0 {
		return fmt.Errorf("a gauge log of this case does not count: %s", strings.Join(wrong, "; "))
	}
	return nil
}

// LogTrouble says why a gauge log counts for nothing; "" where it counts.
func (s *Session) LogTrouble(id string) string {
	a, _ := s.Answer()
	if a == nil {
		return ""
	}
	return about(a.Ignored, id)
}

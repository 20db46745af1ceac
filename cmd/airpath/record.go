package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"airpath/circuit/airflow"
	"airpath/circuit/airflow/procedure"
	"airpath/trace"
	"airpath/trace/record"
	"airpath/ui/viewer"
)

var recordCommand = command{
	name:     "record",
	synopsis: "--case FILE -o F.pdf|F.html [--circuit C] [--paper a4|letter] [--unit U] [--open]",
	about:    "write a case's work record: what was found, concluded, repaired and checked, to file and to sign",
	details: `
The form follows from the ending of the output's name: .pdf for paper, .html for a browser (it prints as well). Either is one
file, complete without a network. The record holds the vehicle and the complaint, every finding with its limit and source,
the sheet with the path lit, what was cleared and why, the fault by name, each repair, the check after it beside what was
found before, how the tests are done that are still to be repeated, cautions, and room for signatures.

A case tells of repairs by [[repair]], and of what was found after one by after = "r1"; circuits/README.md tells how. What a case
leaves out is left blank, to be written in by hand. The record bears the case's own date, so that the same case gives the
same file.

  airpath record --case slow.toml -o slow.pdf
  airpath record --case slow.toml -o slow.html --open
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		vehicle := flags.String("circuit", "", "a `circuit` of the library, a path, or -")
		caseFile := flags.String("case", "", "a case `file`, or -")
		output := flags.String("o", "", "the record's `file`")
		paper := flags.String("paper", "a4", "`size` of the pages: a4 or letter")
		open := flags.Bool("open", false, "show it in the system's own viewer")
		unit := pressureFlag(flags)
		return func(p *program, args []string) error {
			if len(args) > 0 {
				return badCall("record: no further word is wanted, got %q; the case is given as --case FILE", args[0])
			}
			if *caseFile == "" {
				return badCall("record: say which case, as in --case FILE")
			}
			form, err := recordForm(*output)
			if err != nil {
				return err
			}
			sheet, err := paperNamed(*paper)
			if err != nil {
				return err
			}
			if *open && *output == "-" {
				return badCall("record: --open shows a file, and - is none; name one, as in -o record.pdf")
			}
			if err := p.record(*caseFile, *vehicle, *output, form, sheet, *unit); err != nil {
				return err
			}
			if *open {
				return p.show(*output)
			}
			return nil
		}
	},
}

var recordForms = []string{".pdf", ".html"}

// recordForm is the form that an output's name asks for; standard output takes a PDF.
func recordForm(path string) (string, error) {
	switch {
	case path == "":
		return "", badCall("record: say where the record goes, as in -o record.pdf")
	case path == "-":
		return ".pdf", nil
	}
	form := strings.ToLower(filepath.Ext(path))
	if slices.Contains(recordForms, form) {
		return form, nil
	}
	return "", badCall("record: no record of the form %q can be written; the forms are %s", form, strings.Join(recordForms, ", "))
}

func paperNamed(name string) (record.Paper, error) {
	var names []string
	for _, p := range record.Papers() {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		names = append(names, strings.ToLower(p.Name))
	}
	return record.Paper{}, badCall("record: no paper %q; there is %s", name, strings.Join(names, " and "))
}

func (p *program) record(caseFile, vehicle, output, form string, paper record.Paper, unit pressureUnit) error {
	k, c, err := p.loadCase(caseFile, vehicle)
	if err != nil {
		return err
	}
	n, err := airflow.Compile(c)
	if err != nil {
		return err
	}
	procedures := procedure.For(n)
	if err := append(bindFindings(k, procedures), bindRepairs(k, c, procedures)...).Err(); err != nil {
		return err
	}
	tracer, err := trace.New(n, trace.Options{Unit: string(unit), Cache: trace.CacheDir()})
	if err != nil {
		return err
	}
	bar := p.newProgress("weighing the findings")
	stages, err := record.Stages(p.ctx, tracer, k, bar.show)
	bar.clear()
	if err != nil {
		return err
	}
	d, err := record.New(record.Input{
		Case: k, Circuit: c, Procedures: procedures, Stages: stages, Unit: string(unit), Program: programName(),
	})
	if err != nil {
		return err
	}
	if form == ".html" {
		return p.writeOutput(output, d.HTML())
	}
	pdf, err := d.PDF(paper)
	if err != nil {
		return fmt.Errorf("record of %s: %w", k.Title, err)
	}
	return p.writeOutput(output, pdf)
}

// show opens a file in the system's viewer.
func (p *program) show(path string) error {
	if _, err := os.Stat(path); err != nil {
		return err
	}
	return viewer.Open(p.ctx, path)
}

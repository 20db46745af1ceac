package main

import (
	"flag"
)

var listCommand = command{
	name:     "list",
	synopsis: "circuits|kinds|faults|procedures|drills [NAME...] [--circuit C] [--unit U] [--json]",
	about:    "list the library's circuits and exercises, the kinds of parts, a circuit's faults or its procedures",
	details: `
airpath list circuits                       the vehicles of the library
airpath list circuits coach                 one of them: what it is, how its circuit works, what to look at
airpath list kinds                          the sorts of parts that a circuit may have, with their ports
airpath list faults --circuit gritter       every fault that a vehicle can have, as --fault of airpath run takes it
airpath list procedures --circuit gritter   every procedure that can be carried out on it
airpath list procedures --circuit gritter governor-cut-out
                                            one of them: steps, tools, cautions, and its readings with their places
                                            and limits, as a case file names them
airpath list drills                         the exercises of the library, the easiest first
`,
	declare: func(flags *flag.FlagSet) func(*program, []string) error {
		name := flags.String("circuit", "", "a `circuit` of the library, a path, or - for standard input")
		unit := pressureFlag(flags)
		asJSON := flags.Bool("json", false, "report as JSON")
		return func(p *program, args []string) error {
			if len(args) == 0 {
				return badCall("list: say what to list, one of circuits, kinds, faults, procedures, drills")
			}
			if len(args) > 1 && args[0] != "procedures" && args[0] != "circuits" {
				return badCall("list %s: no further word is wanted, got %q", args[0], args[1])
			}
			needsCircuit := args[0] == "faults" || args[0] == "procedures"
			if needsCircuit && *name == "" {
				return badCall("list %s: say of which circuit, as in --circuit gritter", args[0])
			}
			if !needsCircuit && *name != "" {
				return badCall("list %s: --circuit has no meaning here", args[0])
			}
			switch args[0] {
			case "circuits":
				return p.listCircuits(args[1:], *asJSON)
			case "drills":
				return p.listDrills(*asJSON)
			case "kinds":
				return p.listKinds(*asJSON)
			case "faults":
				return p.listFaults(*name, *unit, *asJSON)
			case "procedures":
				return p.listProcedures(*name, args[1:], *unit, *asJSON)
			}
			return badCall("list: there is no list of %q; there are circuits, kinds, faults, procedures, drills", args[0])
		}
	},
}

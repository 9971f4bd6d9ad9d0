package follow

// The words below are for scripts: stable, in lower case with hyphens.

func word(words []string, i int) string {
	if i < 0 || i >= len(words) {
		return ""
	}
	return words[i]
}

var meetings = []string{"apart", "adding", "against"}

func (m Meeting) String() string { return word(meetings, int(m)) }

var stepKinds = []string{"", "start", "series", "attenuator", "coupling", "control", "choke", "wire", "stage", "transformer", "end"}

func (k StepKind) String() string { return word(stepKinds, int(k)) }

var electrodes = []string{"", "grid", "cathode", "anode", "screen-grid"}

func (e Electrode) String() string { return word(electrodes, int(e)) }

var reasons = []string{
	"", "no-reason", "swallowed", "earthed", "not-joined", "contact-open", "not-fitted", "valve-out", "turned-down",
	"no-return", "no-loudspeaker", "nowhere", "no-current", "winding-open", "dead",
}

func (r Reason) String() string { return word(reasons, int(r)) }

var assumptions = []string{
	"", "plugged-in", "valves-in", "powered", "half-turned", "no-figure", "supply-still", "earth-at", "typical", "from-memory", "windings-start",
}

func (k AssumptionKind) String() string { return word(assumptions, int(k)) }

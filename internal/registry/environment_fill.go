package registry

import "cmp"

// Fill takes over from a preset every field of the climate that the statement
// leaves open, and the preset's source if it names none.
func (e *Environment) Fill(preset Environment) {
	for k := range environmentFields {
		if f := &environmentFields[k]; !f.known(e) {
			f.take(e, &preset)
		}
	}
	e.Source = cmp.Or(e.Source, preset.Source)
}

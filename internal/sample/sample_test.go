package sample_test

import (
	"testing"

	"rockledger/internal/sample"
)

func TestSamplesAreValid(t *testing.T) {
	t.Parallel()
	s := sample.Site()
	p := sample.Position(s)
	a := sample.Anchor(p)
	inst, use := sample.Installation(a), sample.FirstUse(a, sample.Person())
	insp, rem := sample.Inspection(a), sample.Removal(a)
	for name, err := range map[string]error{
		"Site": s.Validate(), "Position": p.Validate(), "Anchor": a.Validate(), "Installation": inst.Validate(sample.Day),
		"FirstUse": use.Validate(sample.Day), "Inspection": insp.Validate(sample.Day), "Removal": rem.Validate(sample.Day),
	} {
		if err != nil {
			t.Errorf("%s().Validate() = %v, want nil", name, err)
		}
	}
}

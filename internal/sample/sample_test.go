package sample_test

import (
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func TestSamplesAreValid(t *testing.T) {
	t.Parallel()
	s := sample.Site()
	p := sample.Position(s)
	a := sample.Anchor(p)
	inst, use := sample.Installation(a), sample.FirstUse(a, sample.Person())
	session, cure := sample.GluingSession(s), sample.Cure(a)
	insp, rem := sample.Inspection(a), sample.Removal(a)
	work, mark := sample.Maintenance(a), sample.Marking(a)
	for name, err := range map[string]error{
		"Site": s.Validate(), "Position": p.Validate(), "Anchor": a.Validate(), "Installation": inst.Validate(sample.Day),
		"GluingSession": session.Validate(sample.Day), "Cure": cure.Validate(sample.Day),
		"FirstUse": use.Validate(sample.Day), "Inspection": insp.Validate(sample.Day), "Removal": rem.Validate(sample.Day),
		"Maintenance": work.Validate(sample.Day), "Marking": mark.Validate(sample.Day),
	} {
		if err != nil {
			t.Errorf("%s().Validate() = %v, want nil", name, err)
		}
	}
}

func TestStatementsAreValid(t *testing.T) {
	t.Parallel()
	s, l, p := sample.Site(), sample.Landowner(), sample.Hardware()
	a := sample.Anchor(sample.Position(s))
	env, event, notice, agreement := sample.Environment(s), sample.Event(s), sample.Notice(a), sample.Agreement(l)
	restriction, version := sample.Restriction(registry.AtSite, s.ID), sample.ProductVersion(p)
	settlement := sample.Settlement(a, sample.Person())
	retraction := sample.Retraction(a, sample.Person(), settlement.ID)
	for name, err := range map[string]error{
		"Environment": env.Validate(), "Event": event.Validate(sample.Day), "Notice": notice.Validate(), "Agreement": agreement.Validate(),
		"Restriction": restriction.Validate(), "ProductVersion": version.Validate(),
		"Settlement": settlement.Validate(sample.Day), "Retraction": retraction.Validate(sample.Day),
	} {
		if err != nil {
			t.Errorf("%s().Validate() = %v, want nil", name, err)
		}
	}
}

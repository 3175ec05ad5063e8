package postgres

import (
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type assessmentRow struct {
	AnchorID     uuid.UUID     `json:"anchor_id"`
	SiteID       uuid.UUID     `json:"site_id"`
	AsOf         calendar.Date `json:"as_of"`
	Standing     word          `json:"standing"`
	DueOn        calendar.Date `json:"due_on"`
	SoonestOn    calendar.Date `json:"soonest_on"`
	DueState     word          `json:"due_state"`
	Band         word          `json:"band"`
	BandReason   string        `json:"band_reason"`
	Consequence  int           `json:"consequence"`
	OldestOn     calendar.Date `json:"oldest_on"`
	ValidUntil   calendar.Date `json:"valid_until"`
	Engine       int           `json:"engine"`
	RulesVersion int           `json:"rules_version"`
}

func newAssessmentRow(a registry.Assessment) assessmentRow {
	return assessmentRow{
		a.AnchorID, a.SiteID, a.AsOf, word(a.Standing), a.DueOn, a.SoonestOn, word(a.DueState), word(a.Band), a.BandReason,
		int(a.Consequence), a.OldestOn, a.ValidUntil, a.Engine, a.RulesVersion,
	}
}

type findingRow struct {
	AnchorID  uuid.UUID       `json:"anchor_id"`
	Rank      int             `json:"rank"` // worst first, from 1
	Rule      string          `json:"rule"`
	Severity  word            `json:"severity"`
	Values    registry.Values `json:"values"`
	Source    string          `json:"source"`
	Settles   string          `json:"settles"`
	RecordID  *uuid.UUID      `json:"record_id"`
	SettledBy *uuid.UUID      `json:"settled_by"`
}

func newFindingRows(a registry.Assessment) []findingRow {
	rows := make([]findingRow, len(a.Findings))
	for i, f := range a.Findings {
		rows[i] = findingRow{a.AnchorID, i + 1, f.Rule, word(f.Severity), values(f.Values), f.Source, f.Settles, f.RecordID, f.SettledBy}
	}
	return rows
}

func (r findingRow) noun() registry.Finding {
	return registry.Finding{
		Rule: r.Rule, Severity: registry.Severity(r.Severity), Values: values(r.Values), Source: r.Source,
		Settles: r.Settles, RecordID: r.RecordID, SettledBy: r.SettledBy,
	}
}

// values is the one form of a list of values, so that stored and computed ones
// compare: nil for none.
func values(v registry.Values) registry.Values {
	if len(v) == 0 {
		return nil
	}
	return v
}

type candidateRow struct {
	AnchorID uuid.UUID       `json:"anchor_id"`
	Rank     int             `json:"rank"` // earliest first, from 1; 0: the reason
	Rule     string          `json:"rule"`
	Factor   string          `json:"factor"`
	FallsOn  calendar.Date   `json:"falls_on"`
	Values   registry.Values `json:"values"`
	Source   string          `json:"source"`
	Hard     bool            `json:"hard"`
}

func newCandidateRow(anchor uuid.UUID, rank int, c registry.Candidate) candidateRow {
	return candidateRow{anchor, rank, c.Rule, c.Factor, c.On, values(c.Values), c.Source, c.Hard}
}

// newCandidateRows returns the reason, where there is one, and the candidates.
func newCandidateRows(a registry.Assessment) []candidateRow {
	rows := make([]candidateRow, 0, len(a.Candidates)+1)
	if a.Reason.Rule != "" {
		rows = append(rows, newCandidateRow(a.AnchorID, 0, a.Reason))
	}
	for i, c := range a.Candidates {
		rows = append(rows, newCandidateRow(a.AnchorID, i+1, c))
	}
	return rows
}

func (r candidateRow) noun() registry.Candidate {
	return registry.Candidate{
		Rule: r.Rule, Factor: r.Factor, On: r.FallsOn, Values: values(r.Values), Source: r.Source, Hard: r.Hard,
	}
}

var (
	assessments = newTable[assessmentRow]("assessment")
	findings    = newTable[findingRow]("assessment_finding")
	candidates  = newTable[candidateRow]("assessment_candidate")
)

// assessmentRows are the rows behind some assessments.
type assessmentRows struct {
	hot        []assessmentRow
	findings   []findingRow
	candidates []candidateRow
}

// queue adds the queries for the assessments of the anchors that a source
// gives; served by the primary keys.
func (r *assessmentRows) queue(b *pgx.Batch, source string, args pgx.StrictNamedArgs) {
	all(b, &r.hot, assessments.of("anchor_id", source)+"\nORDER BY t.anchor_id", args)
	all(b, &r.findings, findings.of("anchor_id", source)+"\nORDER BY t.anchor_id, t.rank", args)
	all(b, &r.candidates, candidates.of("anchor_id", source)+"\nORDER BY t.anchor_id, t.rank", args)
}

// assessments puts the rows together, by anchor.
func (r *assessmentRows) assessments() map[uuid.UUID]*registry.Assessment {
	byAnchor := make(map[uuid.UUID]*registry.Assessment, len(r.hot))
	for _, h := range r.hot {
		byAnchor[h.AnchorID] = &registry.Assessment{
			AnchorID: h.AnchorID, SiteID: h.SiteID, AsOf: h.AsOf, Standing: registry.Standing(h.Standing),
			DueOn: h.DueOn, SoonestOn: h.SoonestOn, DueState: registry.DueState(h.DueState), Band: registry.Band(h.Band),
			BandReason: h.BandReason, Consequence: registry.Consequence(h.Consequence), OldestOn: h.OldestOn,
			ValidUntil: h.ValidUntil, Engine: h.Engine, RulesVersion: h.RulesVersion,
		}
	}
	for _, f := range r.findings {
		if a := byAnchor[f.AnchorID]; a != nil {
			a.Findings = append(a.Findings, f.noun())
		}
	}
	for _, c := range r.candidates {
		switch a := byAnchor[c.AnchorID]; {
		case a == nil:
		case c.Rank == 0:
			a.Reason = c.noun()
		default:
			a.Candidates = append(a.Candidates, c.noun())
		}
	}
	return byAnchor
}

// ruleIDs lists the rules with a finding, in order, once for each finding.
func ruleIDs(a *registry.Assessment) []string {
	rules := make([]string, len(a.Findings))
	for i, f := range a.Findings {
		rules[i] = f.Rule
	}
	slices.Sort(rules)
	return rules
}

// settledIDs lists the rules of the findings that are settled, in order, once
// for each.
func settledIDs(a *registry.Assessment) []string {
	rules := []string{}
	for i := range a.Findings {
		if a.Findings[i].SettledBy != nil {
			rules = append(rules, a.Findings[i].Rule)
		}
	}
	slices.Sort(rules)
	return rules
}

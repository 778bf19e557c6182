package handlers

import (
	"context"
	"net/http"

	"tenter/models"
	"tenter/models/counts"
)

// MadeVersion is a version with its testers and its sign-off.
type MadeVersion struct {
	Version
	Testers []VersionMaker `json:"testers" doc:"Who makes it; those who withdrew are left out."`
	SignOff *SignOff       `json:"sign_off" doc:"The standing one."`
}

// VersionMaker is a tester of a version in one size.
type VersionMaker struct {
	AssignmentID string                 `json:"assignment_id"`
	PersonID     string                 `json:"person_id"`
	Handle       string                 `json:"handle"`
	SizeID       string                 `json:"size_id"`
	Size         string                 `json:"size"`
	State        models.AssignmentState `json:"state" enum:"asked,accepted,reported,approved"`
}

func makerView(m models.VersionMaker) VersionMaker {
	return VersionMaker{m.AssignmentID, m.PersonID, m.Handle, m.SizeID, m.SizeName, m.State}
}

// VersionComparison is what differs between two versions.
type VersionComparison struct {
	From    AssignedVersion `json:"from"`
	To      AssignedVersion `json:"to"`
	Changes []VersionChange `json:"changes" doc:"Line by line, in the order of the later text."`
	Rules   []RuleChange    `json:"rules"`
}

// VersionChange is one difference, with the testers of the earlier version
// whom it is about.
type VersionChange struct {
	counts.Change
	Testers []VersionMaker `json:"testers" doc:"Who makes the earlier version in that size; for a line or unit as a whole, everybody who makes it."`
}

// RuleChange is a rule that came, went or reads otherwise.
type RuleChange struct {
	Name   string `json:"name"`
	Before *Rule  `json:"before"`
	After  *Rule  `json:"after"`
}

type versionsQuery struct {
	DesignPath
	Paged
}

type compareVersionsInput struct {
	VersionPath
	Since string `query:"since" maxLength:"36" doc:"The version to compare with; the one before when absent."`
}

func (a *api) versions() {
	add(a, operation("list-versions", http.MethodGet, "/designs/{design}/versions", "A design's versions, who makes them, and their sign-offs", "Counts"), a.getVersions)
	add(a, operation("compare-versions", http.MethodGet, "/versions/{version}/changes", "What a version has otherwise than an earlier one, by line and size", "Counts"), a.getChanges)
	add(a, operation("propose-counts", http.MethodPost, "/versions/{version}/proposal", "Propose counts that keep the rules, nearest to what is intended", "Counts"), a.postProposal)
}

func (a *api) getVersions(ctx context.Context, _ models.Actor, in *versionsQuery) (*listOf[MadeVersion], error) {
	rows, err := a.Store.MadeVersions(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	rows, next := pageOf(rows, in.page(), func(v models.MadeVersion) string { return v.ID })
	return list(rows, next, func(v models.MadeVersion) MadeVersion {
		return MadeVersion{versionView(v.Version), each(v.Makers, makerView), signOffView(v.SignOff)}
	}), nil
}

func (a *api) getChanges(ctx context.Context, _ models.Actor, in *compareVersionsInput) (*plain[VersionComparison], error) {
	c, err := a.Store.CompareVersions(ctx, in.Version, in.Since)
	if err != nil {
		return nil, err
	}
	out := VersionComparison{From: AssignedVersion{c.From.ID, c.From.Number}, To: AssignedVersion{c.To.ID, c.To.Number}}
	out.Changes = each(c.Changes, func(d counts.Change) VersionChange {
		about := []VersionMaker{}
		for _, m := range c.Makers {
			if d.Size == "" || d.Size == m.SizeName {
				about = append(about, makerView(m))
			}
		}
		return VersionChange{d, about}
	})
	out.Rules = each(c.Rules, func(r models.RuleChange) RuleChange { return RuleChange{r.Name, ruleView(r.Before), ruleView(r.After)} })
	return &plain[VersionComparison]{out}, nil
}

func ruleView(r *models.Rule) *Rule {
	if r == nil {
		return nil
	}
	return &Rule{r.ID, r.Name, r.Kind, r.Expr, r.MultipleOf, r.Plus}
}

// Proposal is counts that keep the rules, beside what stands today.
type Proposal struct {
	Lines    []ProposedLine        `json:"lines"`
	Sizes    []counts.ProposedSize `json:"sizes" doc:"How near each size comes, and why nothing is proposed for one."`
	Finished []counts.Finished     `json:"finished" doc:"What the proposed counts come to, in cm."`
	Now      []counts.Finished     `json:"now" doc:"What the counts come to as they are, in cm."`
	Unguided []Unchecked           `json:"unguided" doc:"Points and rules that could not guide the search, and why."`
}

// ProposedLine is a line of the proposal beside today's.
type ProposedLine struct {
	counts.ProposedCount
	Now     []*float64 `json:"now"`
	NowText string     `json:"now_text"`
	Changed bool       `json:"changed"`
}

type proposalInput struct {
	VersionPath
	Body struct {
		Keep   []string  `json:"keep,omitempty" maxItems:"400" doc:"Names of counts that stay as they are."`
		Counts []CountIn `json:"counts,omitempty" maxItems:"400" doc:"To start from, instead of the version's own; a line without any value is found from nothing."`
		Rules  []RuleIn  `json:"rules,omitempty" maxItems:"200"`
	}
}

func (a *api) postProposal(ctx context.Context, _ models.Actor, in *proposalInput) (*plain[Proposal], error) {
	var given *models.Sheet
	if in.Body.Counts != nil {
		current, err := a.Store.Sheet(ctx, in.Version)
		if err != nil {
			return nil, err
		}
		lines, err := countsFrom(in.Body.Counts, current.Sizes)
		if err != nil {
			return nil, err
		}
		given = &models.Sheet{Counts: lines, Rules: each(in.Body.Rules, RuleIn.rule)}
	}
	p, err := a.Store.ProposeCounts(ctx, in.Version, given, in.Body.Keep)
	if err != nil {
		return nil, err
	}
	return &plain[Proposal]{proposalView(p)}, nil
}

func proposalView(p *models.CountProposal) Proposal {
	out := Proposal{Sizes: p.Sizes, Finished: p.Finished, Now: p.Now,
		Unguided: each(p.Unguided, func(u models.FieldProblem) Unchecked { return Unchecked{u.Field, u.Problem} })}
	out.Lines = each(p.Counts, func(c counts.ProposedCount) ProposedLine {
		line := ProposedLine{ProposedCount: c, Now: p.Lines[c.Name].Values}
		line.NowText = counts.Print(line.Now, p.Layout)
		line.Changed = line.NowText != c.Text
		return line
	})
	return out
}

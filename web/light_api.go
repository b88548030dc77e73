package web

import (
	"context"
	"fmt"
	"net/http"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"rooftally/layout"
	"rooftally/project"
)

// lightQuestion is a document and what else its question names.
type lightQuestion struct {
	Document jsontext.Value `json:"document"`
	// MinAccessPct asks for the parts of the roof with less light, percent.
	MinAccessPct float64 `json:"min_access_pct"`
	// Month, Day and ClockH are the moment of shadows.
	Month  int     `json:"month"`
	Day    int     `json:"day"`
	ClockH float64 `json:"clock_h"`
	// Candidate is the ID of one, "" for the chosen one.
	Candidate string `json:"candidate"`
}

// readQuestion reads a question with a sound document in it.
func readQuestion(w http.ResponseWriter, r *http.Request) (q lightQuestion, doc project.Document, err error) {
	body, err := readBody(w, r)
	if err != nil {
		return q, doc, err
	}
	if err := json.Unmarshal(body, &q, json.RejectUnknownMembers(true)); err != nil {
		return q, doc, fmt.Errorf("%w: %w", errRequest, err)
	}
	if len(q.Document) == 0 {
		return q, doc, project.Problems{{Path: "document", Message: "is missing"}}
	}
	doc, err = decodeValid(q.Document)
	return q, doc, err
}

// noYear refuses a question that needs a year.
func noYear(why string) error { return project.Problems{{Path: "weather", Message: why}} }

// apiLight answers with the light on a roof, and the parts of it with little; with
// no light and the reason where there is no year to reckon with.
func (s *server) apiLight(w http.ResponseWriter, r *http.Request) {
	q, doc, err := readQuestion(w, r)
	if err == nil && !(q.MinAccessPct >= 0 && q.MinAccessPct <= 100) {
		err = project.Problems{{Path: "min_access_pct", Message: fmt.Sprintf("is %g; it must be 0 to 100 %%", q.MinAccessPct)}}
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	year, err := s.yearOf(r.Context(), doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	if year.Sun == nil {
		// That nothing is known is an answer too, and no fault of the question.
		s.writeJSON(w, r, http.StatusOK, apiLight{Sunlight: project.Sunlight{Planes: []project.PlaneSunlight{}}, Why: year.Why, Warnings: []string{}, ShadeAreas: []project.ShadeArea{}})
		return
	}
	lit, err := s.lightIn(r.Context(), doc, year)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	answer := apiLight{Sunlight: lit, Warnings: year.Warnings, ShadeAreas: []project.ShadeArea{}}
	if q.MinAccessPct > 0 {
		answer.ShadeAreas = project.ShadeProposal(lit, q.MinAccessPct)
	}
	s.writeJSON(w, r, http.StatusOK, answer)
}

// apiLight is the light with what belongs to it.
type apiLight struct {
	project.Sunlight
	// Why says why there is no light, "" where there is.
	Why        string              `json:"why,omitzero"`
	Warnings   []string            `json:"warnings"`
	ShadeAreas []project.ShadeArea `json:"shade_areas"`
}

// apiShadows answers with the shadows of one moment.
func (s *server) apiShadows(w http.ResponseWriter, r *http.Request) {
	q, doc, err := readQuestion(w, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	shadows, err := project.ShadowsOf(doc, project.LocalTime{Month: q.Month, Day: q.Day, ClockH: q.ClockH})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.writeJSON(w, r, http.StatusOK, shadows)
}

// apiYield answers with what the candidates of a document yield. The query names
// the budget of the count as in [server.apiEvaluate].
func (s *server) apiYield(w http.ResponseWriter, r *http.Request) {
	ctx, stop := context.WithTimeout(r.Context(), patience)
	defer stop()
	_, doc, err := readQuestion(w, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	res, built, err := s.countedBuilt(ctx, r, doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	yield, err := s.yieldOf(ctx, doc, res, built)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.writeJSON(w, r, http.StatusOK, yield)
}

// apiWorths is what each obstruction costs a candidate.
type apiWorths struct {
	Candidate string                `json:"candidate"`
	Worths    []project.WorthResult `json:"worths"`
}

// apiWorthsOf answers with what each obstruction costs one candidate.
func (s *server) apiWorthsOf(w http.ResponseWriter, r *http.Request) {
	ctx, stop := context.WithTimeout(r.Context(), patience)
	defer stop()
	q, doc, err := readQuestion(w, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	at, err := candidateAt(doc, q.Candidate)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	year, err := s.yearOf(ctx, doc)
	if err == nil && year.Sun == nil {
		err = noYear(year.Why)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	res, built, err := s.countedBuilt(ctx, r, doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	worths, err := s.worthsOf(ctx, doc, res, built, at)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.writeJSON(w, r, http.StatusOK, apiWorths{Candidate: doc.Candidates[at].ID, Worths: worths})
}

// candidateAt is the place of a candidate: the one named, else the chosen one,
// else the first.
func candidateAt(doc project.Document, id string) (int, error) {
	named := id
	if named == "" {
		named = doc.Target.Chosen
	}
	for i, c := range doc.Candidates {
		if c.ID == named {
			return i, nil
		}
	}
	if id != "" {
		return 0, project.Problems{{Path: "candidate", Message: fmt.Sprintf("is %.40q; no candidate has this id", id)}}
	}
	if len(doc.Candidates) == 0 {
		return 0, project.Problems{{Path: "document.candidates", Message: "is empty; add a module first"}}
	}
	return 0, nil
}

// countedBuilt counts a document that somebody sent, with its light, and plans
// what it takes to build it.
func (s *server) countedBuilt(ctx context.Context, r *http.Request, doc project.Document) (project.Result, project.BuildResult, error) {
	budget, err := budgetOf(r)
	if err != nil {
		return project.Result{}, project.BuildResult{}, err
	}
	res, err := s.evaluator.EvaluateLit(ctx, doc, budget, s.lightToCount(ctx, doc))
	if err != nil {
		return project.Result{}, project.BuildResult{}, err
	}
	built, err := s.build(ctx, doc, res)
	return res, built, err
}

// budgetOf reads the budget that a query names: "drag", or "deep", which it is
// when not named.
func budgetOf(r *http.Request) (layout.Budget, error) {
	name := r.URL.Query().Get("budget")
	if name == "" {
		return layout.Deep, nil
	}
	budget, err := project.BudgetNamed(name)
	if err != nil {
		return budget, fmt.Errorf("%w: %w", errRequest, err)
	}
	return budget, nil
}

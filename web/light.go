package web

import (
	"context"
	"fmt"
	"strconv"

	"rooftally/project"
)

// lightOf is the light on a document's roof, nil where there is no usable year.
func (s *server) lightOf(ctx context.Context, doc project.Document) (*project.Sunlight, error) {
	year, err := s.yearOf(ctx, doc)
	if err != nil || year.Sun == nil {
		return nil, err
	}
	lit, err := s.lightIn(ctx, doc, year)
	if err != nil {
		return nil, err
	}
	return &lit, nil
}

func (s *server) lightIn(ctx context.Context, doc project.Document, year project.YearResult) (project.Sunlight, error) {
	key := project.LightKey(doc, year)
	if key == "" { // no light, and an error that says why
		return project.LightOf(ctx, doc, year)
	}
	lit, err := s.reckoner.lights.get(ctx, key, func(ctx context.Context) (project.Sunlight, error) {
		return project.LightOf(ctx, doc, year)
	})
	lit.Words = year.Words // a house a little off its neighbour has the same light, but not the same way to the station
	return lit, err
}

// lightToCount is [server.lightOf] for counting, which goes on without light:
// what keeps it away is in the log.
func (s *server) lightToCount(ctx context.Context, doc project.Document) *project.Sunlight {
	if len(doc.Planes) == 0 {
		return nil
	}
	lit, err := s.lightOf(ctx, doc)
	if err != nil {
		if ctx.Err() == nil {
			s.log.WarnContext(ctx, "counted without light", "err", err)
		}
		return nil
	}
	return lit
}

// lightNotice says why modules are placed without regard to light though the
// document's question asks for it, and where that can be put right.
type lightNotice struct{ Why, Path, Link string }

// noLight is the notice of a document whose question asks for light and that is
// counted without; the zero notice where it is counted with light or needs none.
func (s *server) noLight(ctx context.Context, id string, doc project.Document) (lightNotice, error) {
	if doc.Target.Mode != "size" && doc.Target.MinAccessPct == 0 {
		return lightNotice{}, nil
	}
	year, err := s.yearOf(ctx, doc)
	if err != nil {
		return lightNotice{}, err
	}
	if year.Why == project.NoSite {
		return lightNotice{year.Why, "/projects/" + id, "Give them in the editor, under Site"}, nil
	}
	if year.Sun == nil {
		return lightNotice{unitsOf(doc.Site).prose(year.Why), "/projects/" + id + "/weather", "Choose the weather"}, nil
	}
	if _, err := project.SceneOf(doc); err != nil {
		return lightNotice{fmt.Sprintf("Shadows cannot be reckoned: %v.", err), "/projects/" + id, "Go to the drawing"}, nil
	}
	return lightNotice{}, nil
}

// yieldOf is what the layouts of a result yield; why there is none is in it.
func (s *server) yieldOf(ctx context.Context, doc project.Document, res project.Result, built project.BuildResult) (project.YieldResult, error) {
	year, err := s.yearOf(ctx, doc)
	if err != nil {
		return project.YieldResult{}, err
	}
	key, err := yieldKey(doc, res, built, year)
	if err != nil {
		return project.YieldResult{}, err
	}
	return s.reckoner.yields.get(ctx, key, func(ctx context.Context) (project.YieldResult, error) {
		return project.YieldOf(ctx, doc, res, built, year)
	})
}

// worthsOf is what each obstruction costs one candidate, by its place in the
// document; nil where there is no usable year.
func (s *server) worthsOf(ctx context.Context, doc project.Document, res project.Result, built project.BuildResult, candidate int) ([]project.WorthResult, error) {
	year, err := s.yearOf(ctx, doc)
	if err != nil || year.Sun == nil {
		return nil, err
	}
	key, err := yieldKey(doc, res, built, year)
	if err != nil {
		return nil, err
	}
	return s.reckoner.worths.get(ctx, key+" "+strconv.Itoa(candidate), func(ctx context.Context) ([]project.WorthResult, error) {
		return project.WorthsOf(ctx, doc, res, built, year, candidate, nil)
	})
}

// yieldKey names everything that a yield depends on.
func yieldKey(doc project.Document, res project.Result, built project.BuildResult, year project.YearResult) (string, error) {
	data, err := project.Encode(doc)
	if err != nil {
		return "", err
	}
	counted, err := project.EncodeResult(res)
	if err != nil {
		return "", err
	}
	return contentKey(string(data), string(counted), built, year.Key)
}

// lightBytes and yieldBytes are about what a value takes in memory.
func lightBytes(l project.Sunlight) int {
	n := 500
	for _, p := range l.Planes {
		n += 300 + 8*len(p.KWhM2)
	}
	return n
}

func yieldBytes(y project.YieldResult) int {
	n := 2000
	for _, c := range y.Candidates {
		n += 10_000 + 300*len(c.Modules) + 300*len(c.Planes)
	}
	return n
}

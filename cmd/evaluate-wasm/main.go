//go:build js && wasm

// Command evaluate-wasm is the evaluation as a WebAssembly program, so that a
// page counts modules without asking the server. It is the only package that
// speaks to JavaScript.
//
// It sets the global function rooftallyEvaluate(document, budget, light) and
// then waits for calls. The document is the text of a project file of the present
// schema, the budget "drag" or "deep", the light what POST /api/light answers, or
// "" while it is not known. Between calls it remembers packings, and the light it
// got last. The answer is a string:
//
//   - {"result":R} where R is, byte for byte, what POST /api/evaluate answers
//     in that budget, with the same light;
//   - {"problems":[{"path":...,"message":...}]} where that refuses the
//     document, with the same problems;
//   - {"fault":"..."} where evaluating failed for any other reason.
package main

import (
	"context"
	"errors"
	"syscall/js"

	"github.com/go-json-experiment/json"

	"rooftally/project"
)

func main() {
	program := program{evaluator: project.NewEvaluator()}
	js.Global().Set("rooftallyEvaluate", js.FuncOf(func(_ js.Value, args []js.Value) any {
		var texts [3]string
		for i := range texts {
			if i >= len(args) || args[i].Type() != js.TypeString {
				return refusal(errors.New("three texts are needed: the document, the budget and the light"))
			}
			texts[i] = args[i].String()
		}
		return program.answer(texts[0], texts[1], texts[2])
	}))
	select {}
}

// program is what is kept between calls.
type program struct {
	evaluator *project.Evaluator
	// light is that of lightText, nil for "".
	lightText string
	light     *project.Sunlight
}

// answer evaluates one document within a budget, with the light on its roof.
func (p *program) answer(text, within, light string) string {
	budget, err := project.BudgetNamed(within)
	if err != nil {
		return refusal(err)
	}
	doc, err := project.Decode([]byte(text))
	if err != nil {
		return refusal(err)
	}
	if err := p.takeLight(light); err != nil {
		return refusal(err)
	}
	res, err := p.evaluator.EvaluateLit(context.Background(), doc, budget, p.light)
	if err != nil {
		return refusal(err)
	}
	out, err := project.EncodeResult(res)
	if err != nil {
		return refusal(err)
	}
	return `{"result":` + string(out) + `}`
}

// takeLight reads a light that differs from the last one: while a finger moves it
// is the same.
func (p *program) takeLight(text string) error {
	if text == p.lightText {
		return nil
	}
	p.lightText, p.light = "", nil
	if text == "" {
		return nil
	}
	light, err := project.DecodeSunlight([]byte(text))
	if err != nil {
		return err
	}
	p.lightText, p.light = text, &light
	return nil
}

// refusal is the answer to a document that gives no result.
func refusal(err error) string {
	var body any = fault{err.Error()}
	if problems, ok := errors.AsType[project.Problems](err); ok {
		body = refused{problems}
	}
	out, err := json.Marshal(body)
	if err != nil {
		// Only text that is not UTF-8 fails, and then its text is left out.
		return `{"fault":"the problems could not be written"}`
	}
	return string(out)
}

type refused struct {
	Problems []project.Problem `json:"problems"`
}

type fault struct {
	Fault string `json:"fault"`
}

//go:build js && wasm

// Command evaluate-wasm is the evaluation as a WebAssembly program, so that a
// page counts modules without asking the server. It is the only package that
// speaks to JavaScript.
//
// It sets the global function rooftallyEvaluate(document, budget) and then
// waits for calls. The document is the text of a project file, the budget
// "drag" or "deep". Between calls it remembers packings. The answer is a
// string:
//
//   - {"result":R} where R is, byte for byte, what POST /api/evaluate answers
//     in that budget;
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
	evaluator := project.NewEvaluator()
	js.Global().Set("rooftallyEvaluate", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 2 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString {
			return refusal(errors.New("two texts are needed: the document and the budget"))
		}
		return answer(evaluator, args[0].String(), args[1].String())
	}))
	select {}
}

// answer evaluates one document within a budget.
func answer(evaluator *project.Evaluator, text, within string) string {
	budget, err := project.BudgetNamed(within)
	if err != nil {
		return refusal(err)
	}
	doc, err := project.Decode([]byte(text))
	if err != nil {
		return refusal(err)
	}
	res, err := evaluator.Evaluate(context.Background(), doc, budget)
	if err != nil {
		return refusal(err)
	}
	out, err := project.EncodeResult(res)
	if err != nil {
		return refusal(err)
	}
	return `{"result":` + string(out) + `}`
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

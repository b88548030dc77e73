//go:build !js

package project

import (
	"testing"

	"rooftally/layout"
)

// BenchmarkEvaluateDemo is one evaluation of the demo house with its three
// candidates in the drag budget, with nothing remembered.
func BenchmarkEvaluateDemo(b *testing.B) {
	for _, style := range layout.Styles() {
		b.Run(string(style), func(b *testing.B) {
			d := Demo()
			d.Rules.Style = string(style)
			for b.Loop() {
				if _, err := EvaluateWithin(b.Context(), d, layout.Drag); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkEvaluateEdit is what follows a finger: one plane of the demo house
// changes, the others are remembered.
func BenchmarkEvaluateEdit(b *testing.B) {
	for _, style := range layout.Styles() {
		b.Run(string(style), func(b *testing.B) {
			d := Demo()
			d.Rules.Style = string(style)
			e := NewEvaluator()
			for b.Loop() {
				d.Planes[2].Ring[0].YM -= 1e-5
				if _, err := e.Evaluate(b.Context(), d, layout.Drag); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkDecodeDemo is one strict reading of the demo's file.
func BenchmarkDecodeDemo(b *testing.B) {
	text := []byte(demoText(b))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Decode(text); err != nil {
			b.Fatal(err)
		}
	}
}

package project

import "testing"

// BenchmarkEvaluateDemo is one evaluation of the demo house with its three
// candidates: what the server does for each edit.
func BenchmarkEvaluateDemo(b *testing.B) {
	d := Demo()
	for b.Loop() {
		if _, err := Evaluate(b.Context(), d); err != nil {
			b.Fatal(err)
		}
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

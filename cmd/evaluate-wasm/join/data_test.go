package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// header is how every program begins.
var header = []byte{0, 'a', 's', 'm', 1, 0, 0, 0}

// programOf has the data after a section of another kind.
func programOf(segments []segment) []byte {
	body := writeSegments(segments)
	out := append(slices.Clone(header), 1, 2, 0xaa, 0xbb)
	return append(appendUnsigned(append(out, dataSection), uint32(len(body))), body...)
}

// memoryOf is what segments leave in a memory of zeros.
func memoryOf(segments []segment) []byte {
	var memory []byte
	for _, s := range segments {
		if more := int(s.end()) - len(memory); more > 0 {
			memory = append(memory, make([]byte, more)...)
		}
		copy(memory[s.at:], s.data)
	}
	return bytes.TrimRight(memory, "\x00")
}

// dataOf is the data section of a program and what comes before it.
func dataOf(t testing.TB, program []byte) (before []byte, segments []segment) {
	t.Helper()
	r := reader{rest: program[headerBytes:]}
	for len(r.rest) > 0 {
		at := len(program) - len(r.rest)
		id := r.byte()
		body := r.bytes(r.unsigned())
		if id == dataSection {
			segments, err := readSegments(body)
			if err != nil {
				t.Fatal(err)
			}
			return program[:at], segments
		}
	}
	t.Fatal("no data section")
	return nil, nil
}

// However the data lies, memory starts the same and the rest is untouched.
func TestJoiningKeepsMemory(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var segments []segment
		at := uint32(rapid.IntRange(0, 300).Draw(rt, "start"))
		for range rapid.IntRange(0, 20).Draw(rt, "segments") {
			s := segment{at, rapid.SliceOfN(rapid.Byte(), 0, 200).Draw(rt, "data")}
			segments = append(segments, s)
			at = uint32(s.end()) + uint32(rapid.IntRange(0, 3*nearBytes).Draw(rt, "gap"))
		}
		program := programOf(segments)
		joined, err := joinData(program)
		if err != nil {
			rt.Fatal(err)
		}
		before, got := dataOf(t, joined)
		if want, _ := dataOf(t, program); !bytes.Equal(before, want) {
			rt.Fatal("what comes before the data changed")
		}
		if !bytes.Equal(memoryOf(got), memoryOf(segments)) {
			rt.Fatalf("memory differs for %+v: %+v", segments, got)
		}
		for i := 1; i < len(got); i++ {
			if gap := uint64(got[i].at) - got[i-1].end(); gap <= nearBytes {
				rt.Fatalf("segments %d and %d lie %d bytes apart", i-1, i, gap)
			}
		}
		if again, err := joinData(joined); err != nil || !bytes.Equal(again, joined) {
			rt.Fatal("joining again changes the program")
		}
	})
}

// Segments that overlap or go back are left in their order, in which a later
// one overwrites an earlier.
func TestOddOrderIsKept(t *testing.T) {
	segments := []segment{{100, []byte{1, 2, 3}}, {101, []byte{9}}, {0, []byte{5}}}
	joined, err := joinData(programOf(segments))
	if err != nil {
		t.Fatal(err)
	}
	if _, got := dataOf(t, joined); !bytes.Equal(memoryOf(got), memoryOf(segments)) {
		t.Errorf("%+v", got)
	}
}

func TestNumbers(t *testing.T) {
	for _, v := range []int32{0, 1, 63, 64, -1, -64, -65, 127, 128, 1 << 20, 1<<31 - 1, -1 << 31} {
		r := reader{rest: appendSigned(nil, v)}
		if got := r.signed(); got != v || r.err != nil || len(r.rest) > 0 {
			t.Errorf("%d reads as %d, %v", v, got, r.err)
		}
		r = reader{rest: appendUnsigned(nil, uint32(v))}
		if got := r.unsigned(); got != uint32(v) || r.err != nil || len(r.rest) > 0 {
			t.Errorf("%d reads as %d, %v", uint32(v), got, r.err)
		}
	}
}

func TestJoiningRefuses(t *testing.T) {
	sound := programOf([]segment{{8, []byte{1}}})
	data := len(header) + 4 // where the data section begins
	passive := slices.Clone(sound)
	passive[data+3] = 1
	for _, c := range []struct {
		name    string
		program []byte
		says    string
	}{
		{"nothing", nil, "cut short"},
		{"half a header", header[:5], "cut short"},
		{"half a section", sound[:len(sound)-1], "cut short"},
		{"a segment without an address", passive, "fixed address"},
		{"more than the segments", append(append(slices.Clone(header), dataSection, 2), 0, 7), "more in the data section"},
		{"a number without an end", append(slices.Clone(header), 1, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff), "32 bits"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := joinData(c.program); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one saying %q", err, c.says)
			}
		})
	}
}

// The program that pages load was joined.
func TestTheProgramIsJoined(t *testing.T) {
	file, err := os.Open(filepath.Join("..", "..", "..", "static", "wasm", "rooftally.wasm.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	packed, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	program, err := io.ReadAll(packed)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := run(bytes.NewReader(program), &out); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), program) {
		t.Error("joining changes it; run 'go generate ./static'")
	}
}

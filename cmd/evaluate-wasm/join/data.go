package main

import (
	"errors"
	"fmt"
)

// nearBytes is the most zeros that are written out to join two segments: the
// spread-out table has a byte in every 20. More makes next to no difference.
const nearBytes = 64

// Of the format, https://webassembly.github.io/spec/core/binary/.
const (
	headerBytes   = 8 // magic number and version
	dataSection   = 11
	activeSegment = 0
	opI32Const    = 0x41
	opEnd         = 0x0b
)

// segment is what memory holds from an address on.
type segment struct {
	at   uint32
	data []byte
}

// end is the address after the last byte.
func (s segment) end() uint64 { return uint64(s.at) + uint64(len(s.data)) }

// joinData returns the program with the segments of its data section joined;
// all else stays as it is. Memory starts the same. A program that is cut short,
// or whose data is not laid out as the linker does it, is an error.
func joinData(program []byte) ([]byte, error) {
	r := reader{rest: program}
	out := append([]byte{}, r.bytes(headerBytes)...)
	for r.err == nil && len(r.rest) > 0 {
		id := r.byte()
		body := r.bytes(r.unsigned())
		if id == dataSection && r.err == nil {
			segments, err := readSegments(body)
			if err != nil {
				return nil, err
			}
			body = writeSegments(join(segments))
		}
		out = append(appendUnsigned(append(out, id), uint32(len(body))), body...)
	}
	if r.err != nil {
		return nil, r.err
	}
	return out, nil
}

// join joins each segment to the one before where few zeros lie between them.
func join(segments []segment) []segment {
	var out []segment
	for _, s := range segments {
		if n := len(out) - 1; n >= 0 && uint64(s.at) >= out[n].end() && uint64(s.at)-out[n].end() <= nearBytes {
			zeros := make([]byte, uint64(s.at)-out[n].end())
			out[n].data = append(append(out[n].data, zeros...), s.data...)
			continue
		}
		out = append(out, segment{s.at, append([]byte{}, s.data...)})
	}
	return out
}

func readSegments(section []byte) ([]segment, error) {
	r := reader{rest: section}
	var out []segment
	for n := r.unsigned(); n > 0 && r.err == nil; n-- {
		kind, op := r.byte(), r.byte()
		at := r.signed()
		if end := r.byte(); r.err == nil && (kind != activeSegment || op != opI32Const || end != opEnd) {
			return nil, fmt.Errorf("segment %d is not one at a fixed address of the first memory", len(out))
		}
		out = append(out, segment{uint32(at), r.bytes(r.unsigned())})
	}
	if r.err == nil && len(r.rest) > 0 {
		return nil, errors.New("there is more in the data section than its segments")
	}
	return out, r.err
}

func writeSegments(segments []segment) []byte {
	out := appendUnsigned(nil, uint32(len(segments)))
	for _, s := range segments {
		out = appendSigned(append(out, activeSegment, opI32Const), int32(s.at))
		out = appendUnsigned(append(out, opEnd), uint32(len(s.data)))
		out = append(out, s.data...)
	}
	return out
}

// reader takes a program apart; after the first error it gives zeros.
type reader struct {
	rest []byte
	err  error
}

func (r *reader) byte() byte {
	if b := r.bytes(1); len(b) == 1 {
		return b[0]
	}
	return 0
}

func (r *reader) bytes(n uint32) []byte {
	if r.err == nil && uint64(n) > uint64(len(r.rest)) {
		r.err = errors.New("the program is cut short")
	}
	if r.err != nil {
		return nil
	}
	b := r.rest[:n]
	r.rest = r.rest[n:]
	return b
}

// unsigned and signed read a number in LEB128, at most 5 bytes for 32 bits.
func (r *reader) unsigned() uint32 {
	v, _ := r.number()
	return uint32(v)
}

func (r *reader) signed() int32 {
	v, bits := r.number()
	return int32(int64(v<<(64-bits)) >> (64 - bits))
}

func (r *reader) number() (v uint64, bits uint) {
	const most = 35
	for bits < most {
		b := r.byte()
		v |= uint64(b&0x7f) << bits
		bits += 7
		if b < 0x80 {
			return v, bits
		}
	}
	if r.err == nil {
		r.err = errors.New("a number has more than 32 bits")
	}
	return 0, most
}

func appendUnsigned(to []byte, v uint32) []byte {
	for v >= 0x80 {
		to = append(to, byte(v)|0x80)
		v >>= 7
	}
	return append(to, byte(v))
}

func appendSigned(to []byte, v int32) []byte {
	for v < -0x40 || v >= 0x40 {
		to = append(to, byte(v)|0x80)
		v >>= 7
	}
	return append(to, byte(v)&0x7f)
}

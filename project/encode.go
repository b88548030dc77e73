package project

import (
	"errors"
	"fmt"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// Encode writes a document in its one canonical form: members in the order of
// the types, two spaces of indent, empty lists as [], fields of other keep-out
// shapes left out, shortest numbers, zero never negative, a newline at the
// end. Documents that are equal give the same bytes, and decoding and encoding
// again changes nothing. A number that JSON cannot write (NaN, infinity) or a
// string that is not UTF-8 is an error.
func Encode(d Document) ([]byte, error) {
	out, err := marshal(d)
	if err != nil {
		return nil, fmt.Errorf("encode document: %w", err)
	}
	return out, nil
}

// EncodeResult writes a result as the report command prints it: members in the
// order of the types, two spaces of indent, a newline at the end.
func EncodeResult(r Result) ([]byte, error) {
	out, err := marshal(r)
	if err != nil {
		return nil, fmt.Errorf("encode result: %w", err)
	}
	return out, nil
}

// marshal writes any value of this package in canonical form.
func marshal(v any) ([]byte, error) {
	out, err := json.Marshal(v,
		jsontext.WithIndent("  "),
		json.WithMarshalers(json.MarshalToFunc(writePlainZero)))
	if err != nil {
		return nil, err
	}
	return append(out, '\n'), nil
}

// writePlainZero writes 0 for negative zero, which browsers write as 0, so
// that the same document has the same bytes on both sides.
func writePlainZero(enc *jsontext.Encoder, f float64) error {
	if f == 0 {
		return enc.WriteToken(jsontext.Int(0))
	}
	return errors.ErrUnsupported
}

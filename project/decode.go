package project

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// MaxFileBytes is the largest project file that is read: 4 MiB, some fifty
// times a document at its limits of ordinary use.
const MaxFileBytes = 4 << 20

// Decode reads a project file strictly: names are case-sensitive, and unknown,
// repeated and missing members, null where a value is due, trailing data,
// numbers that do not fit and files over [MaxFileBytes] are refused. Fields of
// a keep-out that belong to another shape may be absent. A file of an older
// schema is upgraded; a newer one is refused.
//
// Every error is a [Problems] whose paths point into the file. Decode checks
// form, not ranges; call [Document.Validate] for those.
func Decode(data []byte) (Document, error) {
	if len(data) > MaxFileBytes {
		return Document{}, Problems{{Message: fmt.Sprintf("the file has %d bytes; at most %d are read", len(data), MaxFileBytes)}}
	}
	data, err := upgradeTo(data, Schema, upgradeSteps())
	if err != nil {
		return Document{}, err
	}
	var d Document
	if err := json.Unmarshal(data, &d, json.RejectUnknownMembers(true)); err != nil {
		return Document{}, Problems{readableError(err)}
	}
	if ps := gaps(data, d); len(ps) > 0 {
		return Document{}, ps
	}
	return d, nil
}

// gaps returns the members of a well-formed file that are missing or null. It
// compares the file with the canonical form of what was read from it: the
// canonical form has every member that must be there.
func gaps(data []byte, d Document) Problems {
	var got, want any
	if err := json.Unmarshal(data, &got); err != nil {
		return Problems{readableError(err)}
	}
	canonical, err := Encode(d)
	if err != nil {
		return Problems{{Message: err.Error()}}
	}
	if err := json.Unmarshal(canonical, &want); err != nil {
		return Problems{readableError(err)}
	}
	var ps Problems
	compare(&ps, "", got, want)
	return ps
}

// compare reports the nulls of got that are not null in want, and the members
// of want that got lacks, at and below path. The members of an object are
// taken in order of name, so that the same file gives the same list.
func compare(ps *Problems, path string, got, want any) {
	switch g := got.(type) {
	case nil:
		if want != nil {
			ps.add(path, "is null; a value is needed")
		}
	case []any:
		w, _ := want.([]any)
		for i, v := range g {
			var wv any = missing{}
			if i < len(w) {
				wv = w[i]
			}
			compare(ps, fmt.Sprintf("%s[%d]", path, i), v, wv)
		}
	case map[string]any:
		w, _ := want.(map[string]any)
		for _, name := range sortedNames(g, w) {
			sub := joinPath(path, name)
			gv, present := g[name]
			wv, due := w[name]
			switch {
			case !present:
				ps.add(sub, "is missing")
			case !due:
				compare(ps, sub, gv, missing{})
			default:
				compare(ps, sub, gv, wv)
			}
		}
	}
}

// missing stands for a value that the canonical form leaves out; a null in
// its place is still refused.
type missing struct{}

// sortedNames returns the names of both objects once each, in order. They are
// few: the names that the format knows. Sorting them one by one leaves a general
// sort out of the browser's program.
func sortedNames(a, b map[string]any) []string {
	names := make([]string, 0, len(a)+len(b))
	add := func(name string) {
		at := 0
		for at < len(names) && names[at] < name {
			at++
		}
		if at == len(names) || names[at] != name {
			names = slices.Insert(names, at, name)
		}
	}
	for n := range a {
		add(n)
	}
	for n := range b {
		add(n)
	}
	return names
}

// readableError turns an error of the JSON reader into a problem with a path
// and a sentence that does not speak of Go types.
func readableError(err error) Problem {
	if syn, ok := errors.AsType[*jsontext.SyntacticError](err); ok {
		p := Problem{Path: FieldPath(syn.JSONPointer)}
		switch {
		case errors.Is(syn.Err, jsontext.ErrDuplicateName):
			p.Message = "is there twice; a name may be used once"
		case errors.Is(syn.Err, io.ErrUnexpectedEOF):
			p.Message = fmt.Sprintf("the file ends too early, at byte %d", syn.ByteOffset)
		default:
			p.Message = fmt.Sprintf("is not well-formed JSON at byte %d: %v", syn.ByteOffset, syn.Err)
		}
		return p
	}
	if sem, ok := errors.AsType[*json.SemanticError](err); ok {
		return semanticProblem(sem)
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return Problem{Message: "the file is empty or ends too early"}
	}
	return Problem{Message: err.Error()}
}

// semanticProblem words a value that is JSON but not what the field holds.
func semanticProblem(sem *json.SemanticError) Problem {
	p := Problem{Path: FieldPath(sem.JSONPointer)}
	switch {
	case errors.Is(sem.Err, json.ErrUnknownName):
		p.Message = "is not a field of this format; names are lower case and spelled exactly"
	case errors.Is(sem.Err, strconv.ErrRange):
		p.Message = fmt.Sprintf("is %s, which is too large a number", clip(string(sem.JSONValue)))
	case errors.Is(sem.Err, strconv.ErrSyntax):
		p.Message = fmt.Sprintf("is %s; a whole number is needed, without point or exponent", clip(string(sem.JSONValue)))
	case sem.GoType != nil:
		p.Message = fmt.Sprintf("is %s; %s is needed", kindName(sem.JSONKind), needName(sem.GoType.Kind().String()))
	default:
		p.Message = fmt.Sprintf("cannot be read: %v", sem.Err)
	}
	return p
}

// kindName is the name of a JSON kind for people.
func kindName(k jsontext.Kind) string {
	switch k {
	case 'n':
		return "null"
	case 't', 'f':
		return "true or false"
	case '"':
		return "a string"
	case '0':
		return "a number"
	case '{':
		return "an object"
	case '[':
		return "a list"
	}
	return "something else"
}

// needName is the JSON name of a Go kind.
func needName(goKind string) string {
	switch goKind {
	case "bool":
		return "true or false"
	case "string":
		return "a string"
	case "int":
		return "a whole number"
	case "float64":
		return "a number"
	case "slice", "array":
		return "a list"
	}
	return "an object"
}

// FieldPath writes a JSON pointer as planes[2].ring[5].x_m; "" for the whole
// file. Member names that are numbers count as positions in a list.
func FieldPath(p jsontext.Pointer) string {
	path := ""
	for tok := range p.Tokens() {
		if isIndex(tok) {
			path += "[" + tok + "]"
			continue
		}
		path = joinPath(path, tok)
	}
	return path
}

// joinPath adds a member name to a path; odd names are quoted and cut.
func joinPath(path, name string) string {
	if !isPlainName(name) {
		return path + "[" + strconv.Quote(clip(name)) + "]"
	}
	if path == "" {
		return name
	}
	return path + "." + name
}

// isIndex tells an array position from a member name; no member of the format
// is a number.
func isIndex(tok string) bool {
	return tok != "" && strings.Trim(tok, "0123456789") == ""
}

// isPlainName says that a member name needs no quoting in a path.
func isPlainName(name string) bool {
	const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_"
	return name != "" && len(name) <= 40 && strings.ContainsRune(letters, rune(name[0])) &&
		strings.Trim(name, letters+"0123456789") == ""
}

// clip shortens text from a file for a message.
func clip(s string) string {
	const most = 40
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "..."
}

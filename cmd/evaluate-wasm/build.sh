#!/usr/bin/env bash
# Builds the evaluation for the browser into static/wasm, or into the folder
# given: rooftally.wasm.gz, and the loader that belongs to the same Go version.
# Run it after every change of the packages that the evaluation is made of.
#
# The same sources give the same bytes on every machine: the Go version is the
# one go.mod names, paths and version control stay out, and no setting of the
# machine takes part.
set -euo pipefail
cd "$(dirname "$0")/../.."
out=${1:-static/wasm}
limit=1500000

unset GOFLAGS GOEXPERIMENT GOWASM GODEBUG
GOTOOLCHAIN=go$(awk '$1 == "go" { print $2 }' go.mod)
export GOTOOLCHAIN GOENV=off CGO_ENABLED=0 GOOS=js GOARCH=wasm

# The collector of memory of Go 1.25 takes less room than its successor.
export GOEXPERIMENT=nogreenteagc

# Functions of these packages are not copied into their callers, which makes the
# file 4 % smaller and an evaluation slower by less than a twentieth. The
# packages that count modules, and those that read and write numbers, keep it.
calls=()
for package in github.com/go-json-experiment/json github.com/go-json-experiment/json/jsontext github.com/go-json-experiment/json/internal/jsonwire github.com/go-json-experiment/json/internal/jsonflags encoding/csv bufio reflect fmt time os syscall internal/poll internal/fmtsort internal/bisect internal/godebug internal/reflectlite internal/abi internal/runtime/atomic strings bytes sync syscall/js errors encoding/base64 encoding/base32 unicode unicode/utf8 rooftally/project rooftally/catalog; do
  calls+=("-gcflags=$package=-l")
done

mkdir -p "$out"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
go build -trimpath -buildvcs=false -ldflags='-s -w -buildid=' "${calls[@]}" -o "$work/linked.wasm" ./cmd/evaluate-wasm
env -u GOOS -u GOARCH -u GOEXPERIMENT go run ./cmd/evaluate-wasm/join <"$work/linked.wasm" >"$work/rooftally.wasm"
gzip -9 -n -c "$work/rooftally.wasm" >"$out/rooftally.wasm.gz"
cp "$(go env GOROOT)/lib/wasm/wasm_exec.js" "$out/wasm_exec.js"
chmod 644 "$out/wasm_exec.js"

size=$(wc -c <"$out/rooftally.wasm.gz")
echo "rooftally.wasm: $(wc -c <"$work/rooftally.wasm") bytes, $size by gzip -9"
if [ "$size" -gt "$limit" ]; then
  echo "that is over the limit of $limit bytes"
  exit 1
fi

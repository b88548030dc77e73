// Answers documents as the browser would: a JSON list of the text, the budget and
// the light comes in on a line, a JSON string goes out. Arguments: the loader and
// the packed program.
import { readFileSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { runInThisContext } from 'node:vm';
import { gunzipSync } from 'node:zlib';

const [loader, program] = process.argv.slice(2);
runInThisContext(readFileSync(loader, 'utf8'), { filename: loader });
const go = new globalThis.Go();
const { instance } = await WebAssembly.instantiate(gunzipSync(readFileSync(program)), go.importObject);
go.run(instance);
for await (const line of createInterface({ input: process.stdin })) {
  process.stdout.write(JSON.stringify(globalThis.rooftallyEvaluate(...JSON.parse(line))) + '\n');
}
process.exit(0);

// What the loader of the Go distribution adds to the global scope; wasm_exec.js
// itself stays as it was published.
export {};

declare global {
  /** Runs one WebAssembly program built by Go. */
  class Go {
    /** What the program imports. */
    importObject: WebAssembly.Imports;
    /** Starts the program and returns when it first waits; the promise is kept when it ends. */
    run(instance: WebAssembly.Instance): Promise<void>;
  }
  /** Set by the program of cmd/evaluate-wasm; its comment describes the answer. */
  var rooftallyEvaluate: (document: string, budget: 'drag' | 'deep', light: string) => unknown;
}

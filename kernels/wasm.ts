/** The little of WebAssembly's interface that is used here; neither the ES nor the Node typings declare it. */

export interface WasmMemory {
  readonly buffer: ArrayBuffer;
}

interface WasmNamespace {
  readonly Module: new (bytes: Uint8Array) => WasmModule;
  readonly Instance: new (
    module: WasmModule,
    imports: { readonly env: { readonly memory: WasmMemory } },
  ) => { readonly exports: unknown };
  readonly Memory: new (size: { readonly initial: number; readonly maximum: number }) => WasmMemory;
}

declare const brand: unique symbol;
export interface WasmModule {
  readonly [brand]: true;
}

const { WebAssembly } = globalThis as unknown as { readonly WebAssembly: WasmNamespace };

/** Compiles an artefact. Done once for each module of kernels, so that the compiler's tuning outlives one solve. */
export function wasmModule(artefact: string): WasmModule {
  return new WebAssembly.Module(Uint8Array.from(atob(artefact), (c) => c.charCodeAt(0)));
}

/** A zeroed memory of at least so many doubles that never grows. Throws RangeError beyond 4 GB. */
export function wasmMemory(doubles: number): WasmMemory {
  const pages = Math.ceil((8 * doubles) / 65536);
  return new WebAssembly.Memory({ initial: pages, maximum: pages });
}

/** The exported functions of a module working in this memory. */
export function wasmExports<T>(module: WasmModule, memory: WasmMemory): T {
  return new WebAssembly.Instance(module, { env: { memory } }).exports as T;
}

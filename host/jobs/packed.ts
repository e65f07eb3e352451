/**
 * Data made ready for the post: arrays that view only a part of their memory are copied out of it (cloning would send the whole
 * of it along), so that every array owns its memory, which is then handed over and not copied.
 */
export function packed(value: unknown): { readonly value: unknown; readonly transfer: ArrayBuffer[] } {
  const transfer = new Set<ArrayBuffer>();
  const pack = (v: unknown): unknown => {
    if (ArrayBuffer.isView(v)) {
      const view = v as Float64Array;
      const whole = view.byteOffset === 0 && view.byteLength === view.buffer.byteLength;
      const own = whole && view.buffer instanceof ArrayBuffer ? view : view.slice();
      transfer.add(own.buffer as ArrayBuffer);
      return own;
    }
    if (Array.isArray(v)) return v.map(pack);
    if (v !== null && typeof v === "object") {
      return Object.fromEntries(Object.entries(v).map(([key, entry]) => [key, pack(entry)]));
    }
    return v;
  };
  return { value: pack(value), transfer: [...transfer] };
}

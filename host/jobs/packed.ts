/** From this size on an array is shared, bytes: below, memory of its own costs more than the copy. */
const worthSharing = 1 << 16;

/**
 * Data made ready for the post, which clones it. Large arrays are laid into shared memory where there is any (`sharing`), once:
 * whoever is sent them after that reads them where they lie. An array that views only a part of its memory is copied out of it,
 * because cloning would send the whole of it along. Nothing is transferred: the first array that a thread gives away costs it all
 * of its compiled code that reads arrays, which had relied on none ever being gone.
 */
export function packed(value: unknown, sharing: boolean): unknown {
  const made = new Map<unknown, unknown>();
  const pack = (v: unknown): unknown => {
    if (v === null || typeof v !== "object") return v;
    const before = made.get(v);
    if (before !== undefined) return before;
    const own = ArrayBuffer.isView(v)
      ? packedArray(v as Float64Array, sharing)
      : Array.isArray(v)
        ? v.map(pack)
        : Object.fromEntries(Object.entries(v).map(([key, entry]) => [key, pack(entry)]));
    made.set(v, own);
    return own;
  };
  return pack(value);
}

function packedArray(array: Float64Array, sharing: boolean): Float64Array {
  const { buffer, byteLength } = array;
  if (!(buffer instanceof ArrayBuffer)) return array;
  if (!sharing || byteLength < worthSharing) return byteLength === buffer.byteLength ? array : array.slice();
  const shared = new (array.constructor as Float64ArrayConstructor)(new SharedArrayBuffer(byteLength));
  shared.set(array);
  return shared;
}

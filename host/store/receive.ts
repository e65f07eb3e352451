import { createHash } from "node:crypto";
import { open } from "node:fs/promises";
import { type Kept, kept, troubled } from "./kept.ts";

/** Bytes in a file, on the disk. */
export interface Received {
  readonly sha256: string;
  readonly bytes: number;
}

/**
 * Writes a stream into a new file, until it is on the disk. More than `most` bytes are refused, and so is a stream that breaks off;
 * what there is of the file then is for the caller to remove. A fault of the disk is thrown.
 */
export async function receive(
  path: string,
  stream: AsyncIterable<Uint8Array>,
  most: number,
): Promise<Kept<Received>> {
  const file = await open(path, "wx");
  try {
    const hash = createHash("sha256");
    let bytes = 0;
    let brokeOff = false;
    const arriving = untilItBreaks(stream, () => {
      brokeOff = true;
    });
    for await (const chunk of arriving) {
      bytes += chunk.length;
      if (bytes > most) return troubled("too-large", `This has at most ${most / 1e6} MB.`);
      hash.update(chunk);
      await file.writeFile(chunk);
    }
    if (brokeOff) return troubled("broken-off", "It did not arrive whole: nothing of it was kept.");
    await file.sync();
    return kept({ sha256: hash.digest("hex"), bytes });
  } finally {
    await file.close();
  }
}

/** Faults of the sender end the stream; those of the disk, which happen outside of here, go their own way. */
async function* untilItBreaks(
  stream: AsyncIterable<Uint8Array>,
  broke: () => void,
): AsyncGenerator<Uint8Array> {
  try {
    yield* stream;
  } catch {
    broke();
  }
}

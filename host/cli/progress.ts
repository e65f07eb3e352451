/** Progress on a terminal: one line, rewritten, shown only for work that takes longer than half a second. */
import type { Context } from "#engine/numerics";
import { wasmKernels } from "#kernels";

const quietTime = 500;

export interface Progress {
  /** The context handed to the engine for a stage that covers [from, to] of the whole. */
  stage(title: string, from: number, to: number): Context;
  /** Wipes the line. */
  end(): void;
}

/** A progress line on `stream` (standard error): silent where nobody watches. */
export function terminalProgress(stream: NodeJS.WriteStream): Progress {
  const begun = performance.now();
  let shown = false;
  let percentBefore = -1;
  let titleBefore = "";
  return {
    stage(title, from, to) {
      return {
        kernels: wasmKernels,
        cancelled: () => false,
        progress(fraction) {
          if (!stream.isTTY || performance.now() - begun < quietTime) return;
          const percent = Math.round(100 * (from + (to - from) * Math.min(1, Math.max(0, fraction))));
          if (percent === percentBefore && title === titleBefore) return;
          percentBefore = percent;
          titleBefore = title;
          shown = true;
          stream.write(`\r${String(percent).padStart(3)} %  ${title.padEnd(40)}`);
        },
      };
    },
    end() {
      if (shown) stream.write(`\r${" ".repeat(50)}\r`);
    },
  };
}

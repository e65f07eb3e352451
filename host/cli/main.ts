/** Entry of the command line: reads the words, runs the verb, writes its answer. */
import type { Answer } from "./answer.ts";
import { answerTo } from "./program.ts";
import { spareCompiler } from "./spareCompiler.ts";

/** The last resort: a fault of our own is said in one line with how to tell us, never as a stack trace. */
function ownFault(error: unknown): Answer {
  const what = error instanceof Error ? error.message : String(error);
  const trace = process.env["FAIRBOUT_TRACE"] && error instanceof Error ? `\n${error.stack}` : "";
  return {
    status: 2,
    out: "",
    err: `Fairbout itself failed: ${what}\nThis is a fault in the program, not in your file; set FAIRBOUT_TRACE=1 to see where.${trace}\n`,
  };
}

// A reader that closes early (a pager, `head`) is no fault of ours or of the maker's.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

spareCompiler();
const answer = await answerTo(process.argv.slice(2)).catch(ownFault);
process.stderr.write(answer.err);
process.stdout.write(answer.out);
process.exitCode = answer.status;

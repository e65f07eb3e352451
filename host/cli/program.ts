import { Command, CommanderError } from "commander";
import { type Answer, good } from "./answer.ts";
import { check } from "./check.ts";
import { load } from "./load.ts";
import { newDocument } from "./newDocument.ts";
import { panel } from "./panel.ts";
import { partials } from "./partials.ts";
import { slots } from "./slots.ts";
import { voice } from "./voice.ts";

/** Options that several verbs share. */
export interface VerbOptions {
  readonly json?: boolean;
  readonly out?: string;
}

/** Runs the words of a command line and gives its answer; touches no stream but the progress line. */
export async function answerTo(words: readonly string[]): Promise<Answer> {
  let answer: Answer = good("");
  let said = "";
  const program = new Command("fairbout")
    .description("Design, proving and voicing of one-off steel-string acoustic guitars.")
    .configureOutput({
      writeOut: (text) => {
        said += text;
      },
      writeErr: (text) => {
        said += text;
      },
    })
    .exitOverride()
    .showHelpAfterError("(fairbout --help shows what there is)");

  const verb = (
    name: string,
    file: string,
    about: string,
    run: (file: string, options: VerbOptions) => Answer | Promise<Answer>,
    folder = true,
  ) => {
    const command = program
      .command(`${name} <${file}>`)
      .description(about)
      .option("--json", "print the result as JSON, and nothing else")
      .exitOverride();
    if (folder) command.option("--out <folder>", "write the result's files into this folder");
    command.action(async (path: string, options: VerbOptions) => {
      answer = await run(path, options);
    });
    return command;
  };

  program
    .command("new <file>")
    .description("write a new instrument document, complete and ready to change; never over an existing file")
    .option("--from <example>", "example to begin from", "cross-braced")
    .exitOverride()
    .action((path: string, options: { from: string }) => {
      answer = newDocument(path, options.from);
    });
  verb("check", "instrument", "read an instrument document and tell every fault in it", check, false);
  verb("voice", "instrument", "body modes, every note on the board, verdicts, and a report to read", voice);
  verb("slots", "instrument", "fret slots, nut and saddle offsets", slots);
  verb(
    "load",
    "instrument",
    "string tensions, what they do to the bridge, and whether the strings hold",
    load,
  );
  verb("panel", "case", "engineer's verb: modes or statics of one panel case", panel, false);
  verb("partials", "case", "engineer's verb: coupled modes of one string case", partials, false);

  try {
    await program.parseAsync([...words], { from: "user" });
    return answer;
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    const asked = error.code === "commander.helpDisplayed" || error.code === "commander.help";
    const helped = asked && words.some((word) => word === "--help" || word === "-h" || word === "help");
    return helped ? good(said) : { status: 2, out: "", err: said };
  }
}

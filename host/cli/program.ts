import { Command, CommanderError } from "commander";
import { type Answer, good } from "./answer.ts";
import type { Hands } from "./hands.ts";
import type { OpenInstrument } from "./instrument.ts";
import type { PlayOptions } from "./playAsked.ts";
import type { ServeOptions } from "./serve.ts";
import type { VerbOptions } from "./verbOptions.ts";

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
    run: (file: string, options: VerbOptions) => Promise<Answer>,
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
    .action(async (path: string, options: { from: string }) => {
      answer = (await import("./newDocument.ts")).newDocument(path, options.from);
    });
  program
    .command("serve")
    .description("the bench: a page in the browser, for this machine only, until it is told to end")
    .option(
      "--folder <folder>",
      "where the instruments lie; the system's own place for such data if not said",
    )
    .option("--port <n>", "port of the page's address; one that is free if not said")
    .option("--open", "open the page in the browser")
    .option("--example <name>", "example to lay on a bench that holds nothing yet")
    .exitOverride()
    .action(async (options: ServeOptions) => {
      answer = await (await import("./serve.ts")).serve(options);
    });
  program
    .command("restore [backup]")
    .description(
      "put a backup in the place of the bench's store, which is kept beside it; without a name, list them",
    )
    .option(
      "--folder <folder>",
      "where the instruments lie; the system's own place for such data if not said",
    )
    .exitOverride()
    .action(async (backup: string | undefined, options: { folder?: string }) => {
      answer = (await import("./restore.ts")).restore(backup, options, new Date());
    });
  // Each verb's modules are loaded when it is called.
  const instrumentVerb = (
    name: string,
    about: string,
    run: (instrument: OpenInstrument, options: VerbOptions) => Promise<Answer>,
    folder = true,
  ) =>
    verb(
      name,
      "instrument",
      about,
      async (path, options) =>
        (await import("./instrument.ts")).withInstrument(path, options.json ?? false, (instrument) =>
          run(instrument, options),
        ),
      folder,
    );
  const handsVerb = (
    name: string,
    about: string,
    run: (instrument: OpenInstrument, options: VerbOptions, hands: Hands) => Promise<Answer>,
  ) =>
    verb(name, "instrument", about, async (path, options) =>
      (await import("./hands.ts")).withHands(async (hands) =>
        (await import("./instrument.ts")).withInstrument(path, options.json ?? false, (instrument) =>
          run(instrument, options, hands),
        ),
      ),
    );
  instrumentVerb(
    "check",
    "read an instrument document and tell every fault in it",
    async (instrument, options) => (await import("./check.ts")).check(instrument, options),
    false,
  );
  handsVerb(
    "voice",
    "body modes, every note on the board, verdicts, and a report to read",
    async (instrument, options, hands) => (await import("./voice.ts")).voice(instrument, options, hands),
  )
    .option(
      "--ranges",
      "a range on every figure, from samples of all uncertain values (a minute; with --out unless refused)",
    )
    .option("--no-ranges", "only the model's own accuracy beside the figures");
  handsVerb("body", "modes of the body in one state of its building", async (instrument, options, hands) =>
    (await import("./body.ts")).body(instrument, options, hands),
  ).option("--state <state>", 'how far it is built: from "free top" to "strung"', "strung");
  instrumentVerb(
    "try",
    "what a change of one or several values does to voice and load, without writing it",
    async (instrument, options) => (await import("./try.ts")).tryOut(instrument, options),
    false,
  ).option(
    "--to <change>",
    'a value and its share of now, "top.braces[2].height=80 %"; may stand several times',
    (word: string, before: readonly string[] = []) => [...before, word],
  );
  verb(
    "play",
    "instrument",
    "a note, scale, chord or phrase of the computed instrument as a WAV file; beside another at the same gain",
    async (path, options: PlayOptions & { readonly beside?: string }) =>
      (await import("./hands.ts")).withHands(async (hands) => {
        const { play } = await import("./play.ts");
        const { withInstrument } = await import("./instrument.ts");
        const { json = false, beside } = options;
        return withInstrument(path, json, (one) =>
          beside === undefined
            ? play([one], options, hands)
            : withInstrument(beside, json, (other) => play([one, other], options, hands)),
        );
      }),
    false,
  )
    .option("--note <name>", 'a note where it lies lowest on the board, like "D3"')
    .option("--string <n>", "or a string, 1 the highest,")
    .option("--fret <n>", "at a fret, 0 the open string")
    .option("--scale", "a major scale over two octaves")
    .option("--chord", "a chord over all strings")
    .option("--phrase", "a short phrase of our own")
    .option("--beside <instrument>", "another instrument, written beside it at the same pluck and gain")
    .option("--float", "samples as 32-bit floats instead of 16 bits")
    .option("--out <file>", "the WAV file to write");
  instrumentVerb(
    "strings",
    "weight, tension, strength, feel and losses of every string, in every tuning; proposes a balanced set",
    async (instrument, options) => (await import("./strings.ts")).strings(instrument, options),
  )
    .option("--tuning <name>", "tuning of the document to tell of; the set's own notes if not said")
    .option("--balance <what>", 'propose a set of equal "tension" or "feel"');
  instrumentVerb("slots", "fret slots, nut and saddle offsets", async (instrument, options) =>
    (await import("./slots.ts")).slots(instrument, options),
  );
  instrumentVerb(
    "setup",
    "action, saddle height, break angle, buzz of every string at every fret, reach",
    async (instrument, options) => (await import("./setup.ts")).setup(instrument, options),
  );
  handsVerb(
    "load",
    "string tensions, what they do to the bridge, and whether the strings hold",
    async (instrument, options, hands) => (await import("./load.ts")).load(instrument, options, hands),
  );
  verb(
    "panel",
    "case",
    "engineer's verb: modes or statics of one panel case",
    async (path, options) => (await import("./panel.ts")).panel(path, options),
    false,
  );
  verb(
    "partials",
    "case",
    "engineer's verb: coupled modes of one string case",
    async (path, options) => (await import("./partials.ts")).partials(path, options),
    false,
  );

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

import { loadReport as loadSheet, voiceReport as voiceSheet } from "#engine/drawings";
import { done, failed, type Outcome } from "#engine/numerics";
import {
  computeLoad,
  computeVoice,
  defaultBodySettings,
  type LiveInput,
  type LoadReport,
  loadReportOf,
  loadView,
  type SoundingBody,
  type Stages,
  soundingBody,
  type stageJobs,
  stamp,
  unmarked,
  type Voice,
  voiceView,
} from "#engine/pipeline";
import { wasmKernels } from "#kernels";
import { browserCrew, type PageWorker } from "../../jobs/browserWorkers.ts";
import { packed } from "../../jobs/packed.ts";
import type { WorkerCrew } from "../../jobs/workerCrew.ts";
import type { VoicePicture } from "./deskTypes.ts";
import { isKeptLoad, isKeptVoice, type KeptLoad, type KeptVoice } from "./keptResults.ts";
import { markedLoad, markedVoice } from "./marked.ts";
import { type OpenedText, textOpener } from "./openText.ts";
import { remembered } from "./remembered.ts";
import type { ResultStore } from "./resultStore.ts";
import type { Watch } from "./wire.ts";

export type HeavyDuties = ReturnType<typeof heavyDuties>;

/** ms: so long idle workers are kept; hiring and warming new ones costs about a second. */
const idleTime = 60_000;

type HeavyCrew = WorkerCrew<typeof stageJobs>;

/**
 * What takes seconds: voice and load, shared among a crew of `hands` workers that are hired here. The last few results are remembered,
 * older ones asked of the store.
 */
export function heavyDuties(hire: () => PageWorker, hands: number, sharing: boolean, store: ResultStore) {
  const { open } = textOpener(3);
  const voices = remembered<KeptVoice>(6);
  const loads = remembered<KeptLoad>(4);
  /** What live edits start from; large, so of the last voice only. */
  const bases = remembered<LiveInput>(1);
  let crew: HeavyCrew | null = null;
  let working = 0;
  let rest: ReturnType<typeof setTimeout> | undefined;
  /** Work with the crew, which is sent home when it has been idle for a while: its workers keep hundreds of megabytes. */
  const withCrew = async <A>(work: (hired: HeavyCrew) => Promise<A>): Promise<A> => {
    clearTimeout(rest);
    working++;
    crew ??= browserCrew<typeof stageJobs>(hire, hands, sharing);
    try {
      return await work(crew);
    } finally {
      working--;
      if (working === 0)
        rest = setTimeout(() => {
          crew?.close();
          crew = null;
        }, idleTime);
    }
  };

  // what is computed and kept is without name and marks: these are put on as it is handed out
  const voiceKey = ({ build }: OpenedText): string => keyOf("voice", unmarked(build), defaultBodySettings);
  const loadKey = ({ build }: OpenedText): string => keyOf("load", unmarked(build), defaultBodySettings);

  const knownVoice = async (key: string): Promise<KeptVoice | null> => {
    const own = voices.get(key);
    if (own !== undefined) return own;
    const kept = await store.get(key);
    if (!isKeptVoice(kept)) return null;
    voices.set(key, kept);
    return kept;
  };
  const knownLoad = async (key: string): Promise<KeptLoad | null> => {
    const own = loads.get(key);
    if (own !== undefined) return own;
    const kept = await store.get(key);
    if (!isKeptLoad(kept)) return null;
    loads.set(key, kept);
    return kept;
  };

  const newVoice = async (opened: OpenedText, key: string, watch: Watch): Promise<Outcome<KeptVoice>> => {
    const { geometry, strings } = opened;
    const build = unmarked(opened.build);
    const computed = await withCrew((crew) =>
      computeVoice(build, geometry, strings, crew, defaultBodySettings, watchedStages(watch)),
    );
    if (!computed.ok) return computed;
    const voice = computed.value;
    const kept = { picture: voicePicture(voice), sound: soundOnly(soundingBody(voice)) };
    voices.set(key, kept);
    const { parts, made } = voice.body;
    bases.set(key, {
      build,
      geometry,
      strings,
      settings: voice.settings,
      body: { parts, made },
      board: voice.board,
    });
    void store.put(key, kept);
    return done(kept);
  };

  return {
    /** The voice as it is known already; null: it must be computed. */
    recallVoice: async (text: string): Promise<VoicePicture | null> => {
      const opened = open(text);
      const known = opened.ok ? await knownVoice(voiceKey(opened.value)) : null;
      return opened.ok && known !== null ? markedVoice(known.picture, opened.value.build) : null;
    },
    voice: async (text: string, watch: Watch): Promise<Outcome<VoicePicture>> => {
      const opened = open(text);
      if (!opened.ok) return opened;
      const key = voiceKey(opened.value);
      const known = await knownVoice(key);
      const made = known === null ? await newVoice(opened.value, key, watch) : done(known);
      return made.ok ? done(markedVoice(made.value.picture, opened.value.build)) : made;
    },
    recallLoad: async (text: string): Promise<LoadReport | null> => {
      const opened = open(text);
      const known = opened.ok ? await knownLoad(loadKey(opened.value)) : null;
      return opened.ok && known !== null ? markedLoad(known, opened.value.build).report : null;
    },
    load: async (text: string, watch: Watch): Promise<Outcome<LoadReport>> => {
      const opened = open(text);
      if (!opened.ok) return opened;
      const key = loadKey(opened.value);
      const known = await knownLoad(key);
      if (known !== null) return done(markedLoad(known, opened.value.build).report);
      const { geometry, strings } = opened.value;
      const build = unmarked(opened.value.build);
      const settings = defaultBodySettings;
      const computed = await withCrew((crew) =>
        computeLoad(build, geometry, strings, settings, crew, watchedStages(watch)),
      );
      if (!computed.ok) return computed;
      const report = loadReportOf(build, geometry, strings, settings, computed.value);
      const view = loadView(build, geometry, strings, computed.value, report);
      if (!view.ok) return view;
      const kept = { report, view: view.value };
      loads.set(key, kept);
      void store.put(key, kept);
      return done(markedLoad(kept, opened.value.build).report);
    },
    /** Sends what the notes of a voice sound from through the port, or null; whether that voice is known. */
    soundTo: async ({
      text,
      port,
    }: {
      readonly text: string;
      readonly port: MessagePort;
    }): Promise<boolean> => {
      const opened = open(text);
      const known = opened.ok ? await knownVoice(voiceKey(opened.value)) : null;
      port.postMessage(packed(known?.sound ?? null, sharing));
      return known !== null;
    },
    /** Sends what live edits start from through the port; computed anew where only the picture was kept. */
    basis: async (
      { text, port }: { readonly text: string; readonly port: MessagePort },
      watch: Watch,
    ): Promise<Outcome<true>> => {
      const opened = open(text);
      if (!opened.ok) return opened;
      const key = voiceKey(opened.value);
      if (bases.get(key) === undefined) {
        const made = await newVoice(opened.value, key, watch);
        if (!made.ok) return made;
      }
      const basis = bases.get(key);
      if (basis === undefined) return failed("no-basis", "a later voice has taken its place");
      port.postMessage(packed(basis, sharing));
      return done(true);
    },
    sheet: async ({
      text,
      kind,
    }: {
      readonly text: string;
      readonly kind: "voice" | "load";
    }): Promise<string | null> => {
      const opened = open(text);
      if (!opened.ok) return null;
      if (kind === "voice") {
        const known = await knownVoice(voiceKey(opened.value));
        return known === null ? null : voiceSheet(markedVoice(known.picture, opened.value.build).view);
      }
      const known = await knownLoad(loadKey(opened.value));
      return known === null ? null : loadSheet(markedLoad(known, opened.value.build).view);
    },
  };
}

/** A key of the server's routes: 1 to 80 of [a-z0-9-]. */
function keyOf(stage: string, input: unknown, settings: unknown): string {
  const { inputHash, settingsHash, engineVersion } = stamp(stage, input, settings);
  return `${stage}-${inputHash}-${settingsHash}-${engineVersion.replaceAll(/[^a-z0-9]/g, "-")}`;
}

function voicePicture(voice: Voice): VoicePicture {
  return { view: voiceView(voice), verdicts: voice.verdicts, board: voice.board };
}

/** Without what only pictures need. */
function soundOnly(body: SoundingBody): SoundingBody {
  const none = new Float64Array(0);
  const response = {
    ...body.response,
    drawnCount: 0,
    topMotion: none,
    backMotion: none,
    motionByThird: none,
  };
  return { ...body, response };
}

/** Stages side by side report one fraction that never falls. */
function watchedStages(watch: Watch): Stages {
  let furthest = 0;
  return {
    stage: (title, from, to) => ({
      kernels: wasmKernels,
      cancelled: watch.cancelled,
      progress: (fraction) => {
        furthest = Math.max(furthest, from + (to - from) * Math.min(1, Math.max(0, fraction)));
        watch.tell(furthest, title);
      },
    }),
  };
}

import type { LoadSheetView } from "#engine/drawings";
import type { LoadReport, SoundingBody } from "#engine/pipeline";
import type { VoicePicture } from "./deskTypes.ts";

/** What is kept of a voice: what the page shows, and what its notes sound from. */
export interface KeptVoice {
  readonly picture: VoicePicture;
  readonly sound: SoundingBody;
}

export interface KeptLoad {
  readonly report: LoadReport;
  readonly view: LoadSheetView;
}

/** Whether what the store gave has the shape of a voice as this page keeps it: the rest is vouched for by engine, key and hash. */
export function isKeptVoice(value: unknown): value is KeptVoice {
  const { picture, sound } = record(value);
  const { view, verdicts, board } = record(picture);
  const { modes, noteBoard, stamp } = record(view);
  const { build, geometry, strings, response } = record(sound);
  return (
    filled(modes) &&
    filled(noteBoard) &&
    Array.isArray(verdicts) &&
    filled(record(board)["noteBoard"]) &&
    typeof record(stamp)["inputHash"] === "string" &&
    [build, geometry].every((part) => Object.keys(record(part)).length > 0) &&
    filled(strings) &&
    record(response)["frequency"] instanceof Float64Array
  );
}

export function isKeptLoad(value: unknown): value is KeptLoad {
  const { report, view } = record(value);
  const { strings, verdicts, totalN } = record(report);
  return (
    filled(strings) &&
    Array.isArray(verdicts) &&
    typeof totalN === "number" &&
    filled(record(view)["margins"])
  );
}

function record(value: unknown): Readonly<Record<string, unknown>> {
  return value !== null && typeof value === "object" ? (value as Record<string, unknown>) : {};
}

const filled = (list: unknown): boolean => Array.isArray(list) && list.length > 0;

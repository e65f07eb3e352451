import type { Build } from "#engine/instrument";
import { markMeant } from "#engine/verdicts";
import type { VoicePicture } from "./deskTypes.ts";
import type { KeptLoad } from "./keptResults.ts";

/** A voice computed of the unmarked build, with the name and the marks of this one. */
export function markedVoice(picture: VoicePicture, { name, meant }: Build): VoicePicture {
  const { verdicts } = markMeant(picture.verdicts, meant);
  return { ...picture, verdicts, view: { ...picture.view, title: name, verdicts } };
}

/** A load computed of the unmarked build, with the name and the marks of this one. */
export function markedLoad({ report, view }: KeptLoad, { name, meant }: Build): KeptLoad {
  const { verdicts } = markMeant(report.verdicts, meant);
  return { report: { ...report, verdicts }, view: { ...view, title: name, verdicts } };
}

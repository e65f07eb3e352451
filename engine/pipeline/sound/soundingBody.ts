import type { Build } from "#engine/instrument";
import { boardPluck, type NotePluck, type NoteTones, tonesOfNote } from "#engine/notes";
import { failed, type Outcome } from "#engine/numerics";
import { type BodyResponse, crownView, farEnd } from "#engine/response";
import type { InstrumentGeometry } from "../geometry.ts";
import { boardStrings } from "../live/boardStrings.ts";
import type { SetString } from "../stringSet.ts";
import { stringEnds } from "../structure/bodyShell.ts";
import type { Voice } from "../voice.ts";

/** What a note is played on: a computed voice, or a live edit's response with the build it belongs to. Plain data. */
export interface SoundingBody {
  readonly build: Build;
  readonly geometry: InstrumentGeometry;
  readonly strings: readonly SetString[];
  readonly response: BodyResponse;
}

export function soundingBody(voice: Voice): SoundingBody {
  const { build, geometry, strings, body } = voice;
  return { build, geometry, strings, response: body.response };
}

/**
 * The tones of one string (1 is the highest) at one fret, plucked, at 1 m: by the exact path with nut and frets that yield where the response knows the
 * neck's motion (a live edit's does not: there nut and frets are rigid, and `farEndYields` says so). `tuning`: place in `build.tunings`; on
 * the body as the first one stresses it. Fails with "no-string", as `tonesOfNote` and `farEnd` do.
 */
export function noteTones(
  body: SoundingBody,
  string: number,
  fret: number,
  pluck: NotePluck = boardPluck,
  tuning = 0,
): Outcome<NoteTones> {
  const { build, geometry, strings, response } = body;
  const i = strings.findIndex((s) => s.string === string);
  if (i < 0) return failed("no-string", `there is no string ${string}; the instrument has ${strings.length}`);
  const tuned = build.tunings[tuning];
  if (tuned === undefined) return failed("no-string", `there is no tuning ${tuning}`);
  if (fret > build.board.frets)
    return failed("bad-pluck", `there is no fret ${fret}; the board has ${build.board.frets}`);
  const owner = { ...boardStrings(geometry, strings)[i]!, frequency: tuned.frequencies[i]! };
  const far = response.neck === undefined ? null : farEndOf(body, i, fret);
  if (far !== null && !far.ok) return far;
  return tonesOfNote(
    owner,
    fret,
    {
      body: crownView(response, i),
      far: far === null ? null : far.value,
      validToHz: response.validToHz,
      decayValidToHz: response.modesToHz,
      a4: build.tuningReference,
    },
    pluck,
  );
}

function farEndOf({ build, geometry, response }: SoundingBody, i: number, fret: number) {
  const { crown, nut } = stringEnds(build, geometry)[i]!;
  const share = (geometry.board.strings[i]!.fretDistance[fret] ?? 0) / build.strings[i]!.scaleLength;
  const [x, y] = nut.at;
  return farEnd(response, x + share * (crown.x - x), y + share * (crown.y - y));
}

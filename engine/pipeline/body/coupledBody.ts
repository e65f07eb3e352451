import type { BodyResponse, StructureParts } from "#engine/response";
import type { BodyMesh, BodyModes, BodyPiece, BodyShellSpec } from "#engine/shells";
import type { BuildState } from "../structure/buildState.ts";
import type { StringLoad } from "./stringLoad.ts";

/** The body in one build state, with the air it has by then, and what it was coupled from. */
export interface CoupledBody {
  readonly state: BuildState;
  readonly response: BodyResponse;
  readonly parts: StructureParts;
  readonly modes: BodyModes;
  /** null until it is strung. */
  readonly load: StringLoad | null;
  /** What the body was made of: joined again by whoever needs the matrices. */
  readonly made: MadeBody;
  readonly counts: {
    readonly shellNodes: number;
    readonly structureModes: number;
    /** 0 where there is no box yet. */
    readonly cavityModes: number;
    readonly exteriorPanels: number;
    readonly exteriorFrequencies: number;
  };
}

/** The strung body as strings and ear meet it, under its load: that load's forces stiffen and soften its modes. */
export interface WholeBody extends CoupledBody {
  readonly load: StringLoad;
}

export interface MadeBody {
  readonly spec: BodyShellSpec;
  readonly mesh: BodyMesh;
  readonly plates: readonly BodyPiece[];
}

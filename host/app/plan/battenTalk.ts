/** What the page asks of the batten's worker, and what it answers. */
import type {
  BattenWeight,
  CutawayReport,
  CutawaySpec,
  FairnessReport,
  HoleSpec,
  LaidBatten,
  OutlineSpec,
  Polygon,
  ShapedBy,
} from "#engine/geometry";

export type BattenAsk =
  | { readonly kind: "outline"; readonly by: ShapedBy; readonly cutaway: CutawaySpec | null }
  | { readonly kind: "hole"; readonly weights: readonly BattenWeight[] }
  | { readonly kind: "lay outline"; readonly outline: OutlineSpec }
  | { readonly kind: "lay hole"; readonly hole: HoleSpec };

export type BattenShape =
  | {
      readonly kind: "outline";
      readonly edge: Polygon;
      readonly full: Polygon;
      readonly cutaway: CutawayReport | null;
      /** For a document of kind "points". */
      readonly points: Polygon;
      readonly fairness: FairnessReport | null;
    }
  | { readonly kind: "hole"; readonly edge: Polygon; readonly points: Polygon }
  | { readonly kind: "laid"; readonly batten: LaidBatten };

export interface BattenAnswer {
  readonly id: number;
  /** false: a quicker part of the answer, the rest follows unless another ask comes first. */
  readonly last: boolean;
  readonly answer:
    | { readonly ok: true; readonly shape: BattenShape }
    | { readonly ok: false; readonly reason: string; readonly detail: string };
}

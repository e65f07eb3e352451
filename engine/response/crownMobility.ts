import type { BodyResponse } from "./bodyResponse.ts";

/** One string's view of the body, rigid motions first with omega 0 (the record that `notes` couples a string to). */
export interface CrownView {
  readonly omega: Float64Array;
  readonly q: Float64Array;
  readonly shape: Float64Array;
  readonly residual: Float64Array;
  readonly pressure: Float64Array;
}
export declare function crownView(body: BodyResponse, crown: number): CrownView;
export declare function crownMobility(
  body: BodyResponse,
  omega: number,
): { readonly re: Float64Array; readonly im: Float64Array };

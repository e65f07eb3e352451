import type { BodyResponse } from "./bodyResponse.ts";

export interface ResponseCurve {
  readonly frequency: Float64Array;
  readonly mobility: Float64Array;
  readonly pressure: Float64Array;
}
export declare function responseCurve(body: BodyResponse, frequency: Float64Array): ResponseCurve;

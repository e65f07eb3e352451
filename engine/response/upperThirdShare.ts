import type { BodyResponse } from "./bodyResponse.ts";

export interface ThirdShare {
  readonly total: number;
  readonly byThirdOctave: readonly { readonly centreHz: number; readonly share: number }[];
}
export declare function upperThirdShare(body: BodyResponse): ThirdShare;

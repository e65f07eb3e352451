import type { Context, Outcome } from "#engine/numerics";
import type { BodyParts } from "./bodyParts.ts";
import type { BodyResponse } from "./bodyResponse.ts";

export declare function coupleBody(parts: BodyParts, ctx: Context): Outcome<BodyResponse>;

import { useBench } from "../bench/index.ts";
import type { Units } from "./say.ts";

/** What the maker measures with. */
export function useUnits(): Units {
  return useBench((bench) => bench.preferences.units);
}

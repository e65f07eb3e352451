import { celsiusZero } from "#engine/units";
import { glueStrength } from "#engine/woods";
import type { Verdict } from "./verdict.ts";

/**
 * Does the bridge's glue soften in the heat that the document names (K)? From the lower end of its softening range: watch. A glue
 * that the table lacks: watch, said. From memory and common practice, no source.
 */
export function hotCar(glue: string, temperature: number): Verdict {
  const found = glueStrength(glue);
  const celsius = (kelvin: number): string => `${(kelvin - celsiusZero).toFixed(0)} degrees Celsius`;
  const soft = found === null || temperature >= found.softens.from;
  return {
    id: "hot-car",
    title: "Glue in a hot car",
    level: soft ? "watch" : "good",
    computed:
      found === null
        ? `nothing is known of this glue (${glue}) at ${celsius(temperature)}`
        : `${found.name} begins to creep or soften between ${celsius(found.softens.from)} and ${celsius(found.softens.to)}; the car is at ${celsius(temperature)}`,
    limit: "watch where the car is as warm as the lower end of the glue's softening",
    source: "from memory; that glue creeps and bridges slide in hot cars is common practice, no source",
    why: soft
      ? `${found?.note ?? "it has to be tried"}: under string load the bridge may slide or let go, and what lets go under load flies`
      : "it holds at that temperature by what is commonly said of it",
    whatWouldChange:
      "do not leave it in a closed car; slacken the strings first if it must be, and let it cool before tuning up; a glue that softens later",
    sureness:
      "softening temperatures are known within 10 degrees: each maker's glue differs, so its data sheet goes before this",
    figures: { temperature, ...(found === null ? {} : { softensFrom: found.softens.from }) },
    canHurt: true,
  };
}

import { done, failed, type Outcome } from "#engine/numerics";

/** Seconds in a year of 365.25 days. */
export const year = 365.25 * 86400;

/**
 * Share of the short-term strength that wood bears for `seconds` (the Madison curve): 1.084 t^-0.04635 + 0.183, WOOD-1951
 * (from memory). Fitted from seconds to ten years, carried on to fifty; a test of a few minutes counts as 1 at the most.
 * Found on clear wood bent along the grain; other ways and glue lines are taken alike for want of better. Strength, not
 * stiffness. Fails with 'out-of-range' beyond 1 s to 60 years.
 */
export function durationFactor(seconds: number): Outcome<number> {
  if (!(seconds >= 1 && seconds <= 60 * year))
    return failed("out-of-range", `a duration of ${seconds} s is not within 1 s to 60 years`);
  return done(Math.min(1, 1.084 * seconds ** -0.04635 + 0.183));
}

/**
 * 1: indoors, wood mostly below 12 %; 2: under a roof, mostly below 20 %; 3: wetter (EN 1995-1-1). A guitar is kept in 1,
 * in a damp house in 2.
 */
export type ServiceClass = 1 | 2 | 3;

/** Accumulated time of a load: more than 10 years, 6 months to 10 years, a week to 6 months, below a week, an instant. */
export type LoadClass = "permanent" | "long" | "medium" | "short" | "instantaneous";

const loadClasses: readonly LoadClass[] = ["permanent", "long", "medium", "short", "instantaneous"];
const kmodDry = [0.6, 0.7, 0.8, 0.9, 1.1] as const;
const kmodWet = [0.5, 0.55, 0.65, 0.7, 0.9] as const;

/** Factor on design strength for time and moisture, solid timber: EC5-KMOD (EN 1995-1-1 table 3.1). */
export function kmod(serviceClass: ServiceClass, load: LoadClass): number {
  const row = serviceClass === 3 ? kmodWet : kmodDry;
  return row[loadClasses.indexOf(load)]!;
}

/** Creep over elastic deflection under a permanent load, EC5-KDEF (EN 1995-1-1 table 3.2). */
export function kdef(serviceClass: ServiceClass, material: "solid" | "plywood"): number {
  const row = material === "solid" ? ([0.6, 0.8, 2] as const) : ([0.8, 1, 2.5] as const);
  return row[serviceClass - 1]!;
}

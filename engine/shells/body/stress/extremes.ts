import type { PlacedStress } from "./stressTypes.ts";

/** The greatest and the least of what was offered, with its place; zero at no place where nothing was. */
export interface Extremes {
  offer(value: number, x: number, y: number): void;
  most(): PlacedStress;
  least(): PlacedStress;
  /** Whichever is larger in size. */
  largest(): PlacedStress;
}

export function extremes(): Extremes {
  let most: PlacedStress = { value: 0, x: 0, y: 0 };
  let least: PlacedStress = { value: 0, x: 0, y: 0 };
  return {
    offer: (value, x, y) => {
      if (value > most.value) most = { value, x, y };
      if (value < least.value) least = { value, x, y };
    },
    most: () => most,
    least: () => least,
    largest: () => (most.value >= -least.value ? most : least),
  };
}

/**
 * Mean mobility of a plate over many modes, m/(s N): that of an endless plate,
 *   Y = 1 / (8 sqrt(D' m'')),   D' = sqrt(D1 D2)  [N m], ribs smeared;  m''  [kg/m2]
 * Statistical: single modes scatter about it. Real: a resistance. Source: EGE-2013 (skudrzyk).
 */
export function meanMobility(stiffness: number, massPerArea: number): number {
  return 1 / (8 * Math.sqrt(stiffness * massPerArea));
}

/** One part of a section. Taken away (a slot) where EA and the rest are below zero. */
export interface SectionLayer {
  /** N */ readonly EA: number;
  /** About its own centre, N m2. */
  readonly EIUpright: number;
  readonly EISideways: number;
  /** kg/m */ readonly massPerLength: number;
  /** Of its centre under the section's upper face, m. */
  readonly depth: number;
}

/** Layers bent together: plane sections stay plane over all of them. Depth: of the elastic centre; sideways all layers lie on the centreline. */
export interface CompositeSection extends SectionLayer {}

/**
 * Transformed section: depth = sum(EA d) / sum(EA), EI = sum(EI + EA (d - depth)2).
 * Source: composite beams of any textbook on strength of materials.
 */
export function compositeSection(layers: readonly SectionLayer[]): CompositeSection {
  const sum = (figure: (l: SectionLayer) => number): number => layers.reduce((s, l) => s + figure(l), 0);
  const EA = sum((l) => l.EA);
  const depth = sum((l) => l.EA * l.depth) / EA;
  return {
    EA,
    EIUpright: sum((l) => l.EIUpright + l.EA * (l.depth - depth) ** 2),
    EISideways: sum((l) => l.EISideways),
    massPerLength: sum((l) => l.massPerLength),
    depth,
  };
}

/** A rectangle of modulus E (Pa) and density (kg/m3), `top` under the section's upper face, m. */
export function rectangleLayer(
  E: number,
  density: number,
  width: number,
  height: number,
  top: number,
): SectionLayer {
  return {
    EA: E * width * height,
    EIUpright: (E * width * height ** 3) / 12,
    EISideways: (E * height * width ** 3) / 12,
    massPerLength: density * width * height,
    depth: top + height / 2,
  };
}

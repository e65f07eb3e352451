import type { Ink } from "./inks.ts";

/**
 * A drawing as a list of marks on a sheet: paths and words, in mm of the sheet at full size, x to the right and y DOWN
 * from the upper left corner. Writers turn it into SVG now, other formats later; straight pieces only, curves arrive
 * sampled.
 */
export interface Drawing {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Short name, read out first by a screen reader. */
  readonly title: string;
  /** What the picture shows, in a sentence or two, for those who do not see it. */
  readonly description: string;
  readonly marks: readonly Mark[];
}

export type Mark = PathMark | TextMark | GroupMark;

export interface PathMark {
  readonly kind: "path";
  /** x0, y0, x1, y1, ... of each piece. */
  readonly pieces: readonly Float64Array[];
  readonly closed: boolean;
  readonly stroke?: { readonly ink: Ink; readonly widthMm: number; readonly dashMm?: readonly number[] };
  /** Overlapping pieces cut holes into each other (even-odd). */
  readonly fill?: Ink;
}

export interface TextMark {
  readonly kind: "text";
  readonly xMm: number;
  readonly yMm: number;
  readonly text: string;
  readonly sizeMm: number;
  readonly ink: Ink;
  readonly anchor?: "start" | "middle" | "end";
  readonly turnDeg?: number;
  readonly bold?: boolean;
  readonly italic?: boolean;
}

/** Marks that belong together; the name is kept in the file, so that a test or a reader can find them. */
export interface GroupMark {
  readonly kind: "group";
  readonly name: string;
  /** A tooltip and a spoken label. */
  readonly title?: string;
  readonly marks: readonly Mark[];
}

/** Line widths of ISO 128-2, mm. */
export const lineMm = { hair: 0.13, thin: 0.18, fine: 0.25, medium: 0.35, bold: 0.5, heavy: 0.7 } as const;

export type Stroke = NonNullable<PathMark["stroke"]>;

export function stroked(pieces: readonly Float64Array[], stroke: Stroke, closed = false): PathMark {
  return { kind: "path", pieces, closed, stroke };
}

export function filled(pieces: readonly Float64Array[], fill: Ink, stroke?: Stroke): PathMark {
  return stroke === undefined
    ? { kind: "path", pieces, closed: true, fill }
    : { kind: "path", pieces, closed: true, fill, stroke };
}

export function line(x1: number, y1: number, x2: number, y2: number): Float64Array {
  return Float64Array.of(x1, y1, x2, y2);
}

export function box(x: number, y: number, width: number, height: number): Float64Array {
  return Float64Array.of(x, y, x + width, y, x + width, y + height, x, y + height);
}

export function circle(x: number, y: number, radius: number, corners = 24): Float64Array {
  return Float64Array.from({ length: 2 * corners }, (_, i) => {
    const angle = (2 * Math.PI * Math.floor(i / 2)) / corners;
    return i % 2 === 0 ? x + radius * Math.cos(angle) : y + radius * Math.sin(angle);
  });
}

export function group(name: string, marks: readonly Mark[], title?: string): GroupMark {
  return title === undefined ? { kind: "group", name, marks } : { kind: "group", name, title, marks };
}

export function words(
  text: string,
  xMm: number,
  yMm: number,
  sizeMm: number,
  rest: Partial<Omit<TextMark, "kind" | "text" | "xMm" | "yMm" | "sizeMm">> = {},
): TextMark {
  return { kind: "text", text, xMm, yMm, sizeMm, ink: "ink", ...rest };
}

/** Every mark, groups opened, in drawing order. */
export function flatMarks(marks: readonly Mark[]): readonly (PathMark | TextMark)[] {
  return marks.flatMap((mark) => (mark.kind === "group" ? flatMarks(mark.marks) : [mark]));
}

/** The marks of every group of that name. */
export function marksOf(drawing: Drawing, name: string): readonly (PathMark | TextMark)[] {
  const search = (marks: readonly Mark[]): readonly (PathMark | TextMark)[] =>
    marks.flatMap((mark) =>
      mark.kind !== "group" ? [] : mark.name === name ? flatMarks(mark.marks) : search(mark.marks),
    );
  return search(drawing.marks);
}

/** Signs of the page, drawn with one pen on a square of 24: strokes only. */
const signs = {
  undo: "M9 6L4 11l5 5M4 11h10a6 6 0 0 1 0 12h-2",
  redo: "M15 6l5 5-5 5M20 11H10a6 6 0 0 0 0 12h2",
  more: "M4 7h16M4 12h16M4 17h16",
  close: "M5 5l14 14M19 5L5 19",
  plus: "M12 4v16M4 12h16",
  minus: "M4 12h16",
  fit: "M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5",
  down: "M6 9l6 6 6-6",
  right: "M9 6l6 6-6 6",
  left: "M15 6l-6 6 6 6",
  tick: "M5 12.5l5 5L19 7",
  play: "M7 4.5l12 7.5-12 7.5Z",
  stop: "M6 6h12v12H6Z",
  lamp: "M9 18h6M10 21h4M12 3a6 6 0 0 0-3.5 10.9V15.5h7v-1.6A6 6 0 0 0 12 3Z",
  sun: "M12 8a4 4 0 1 0 0 8 4 4 0 0 0 0-8ZM12 2v3M12 19v3M2 12h3M19 12h3M5 5l2 2M17 17l2 2M19 5l-2 2M7 17l-2 2",
  keep: "M6 3h12v18l-6-5-6 5Z",
  lever: "M4 17h16M12 17v-3M5 8l14 4M5 8v3",
  why: "M8.5 8.5a3.5 3.5 0 1 1 5.2 3c-1.3.8-1.7 1.5-1.7 3M12 18v.6",
  caution: "M12 3v12M12 19v1.5",
} as const;

export type SignName = keyof typeof signs;

export function Sign({ name }: { readonly name: SignName }) {
  return (
    <svg className="sign" viewBox="0 0 24 24" aria-hidden="true">
      <path d={signs[name]} />
    </svg>
  );
}

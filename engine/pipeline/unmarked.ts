import type { Build } from "#engine/instrument";

/**
 * The build without what changes no figure: its name, and the maker's marks on verdicts. A voice or a load computed from it is
 * that of every build which differs in these alone.
 */
export function unmarked(build: Build): Build {
  return { ...build, name: "", meant: [] };
}

/** A name that every file system takes: "Low radial, G2" to "low-radial-g2.wav". */
export function soundFileName(parts: readonly string[]): string {
  const plain = parts
    .join(" ")
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replaceAll("#", " sharp ")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "")
    .toLowerCase()
    .slice(0, 80);
  return `${plain === "" ? "sound" : plain}.wav`;
}

/** Sizes above which a request is refused before it is read, bytes. */
export const limits = {
  /** An instrument document, as text. */
  document: 16e6,
  /** Any other JSON request. */
  request: 64e3,
  /** A recording or a photo. */
  attachment: 64e6,
  /** One computed result kept for the next time. */
  result: 64e6,
  /** A file with everything, brought in. */
  archive: 2e9,
} as const;

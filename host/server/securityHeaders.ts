/** What the page may load and do: its own files and nothing else (Content Security Policy Level 3, from memory). */
const policy = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "media-src 'self' blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "font-src 'self'",
  "manifest-src 'self'",
  "frame-ancestors 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

const denied = [
  "accelerometer",
  "camera",
  "display-capture",
  "geolocation",
  "gyroscope",
  "hid",
  "magnetometer",
  "midi",
  "payment",
  "serial",
  "usb",
];

/** Headers of every answer. The two cross-origin policies give the page memory shared with its workers. */
export const securityHeaders: Readonly<Record<string, string>> = {
  "content-security-policy": policy,
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-embedder-policy": "require-corp",
  "cross-origin-resource-policy": "same-origin",
  "x-content-type-options": "nosniff",
  "x-frame-options": "DENY",
  "referrer-policy": "no-referrer",
  "permissions-policy": ["microphone=(self)", ...denied.map((name) => `${name}=()`)].join(", "),
};

import { createHash, randomBytes, randomInt, timingSafeEqual } from "node:crypto";

/** A tablet that may use the bench; of its secret only a hash is kept. */
export interface PairedDevice {
  readonly id: string;
  readonly name: string;
  /** ISO 8601. */
  readonly pairedAt: string;
  /** SHA-256 of the secret in its cookie, hexadecimal. */
  readonly secretHash: string;
}

/** A code that is shown on the bench and typed on the tablet, once. */
export interface PairingCode {
  /** Eight digits. */
  readonly digits: string;
  /** ms since the epoch. */
  readonly endsAt: number;
  readonly triesLeft: number;
}

export interface PairingState {
  readonly code: PairingCode | null;
  readonly devices: readonly PairedDevice[];
}

export const nothingPaired: PairingState = { code: null, devices: [] };

const codeLives = 5 * 60e3;
/** Eight digits and five tries: one chance in twenty million for somebody who guesses. */
const tries = 5;

/** The state with a fresh code; one shown before is worth nothing any more. */
export function withCode(state: PairingState, now: number): PairingState {
  const digits = String(randomInt(100_000_000)).padStart(8, "0");
  return { ...state, code: { digits, endsAt: now + codeLives, triesLeft: tries } };
}

export type PairingTry =
  | {
      readonly ok: true;
      readonly state: PairingState;
      readonly secret: string;
      readonly device: PairedDevice;
    }
  | { readonly ok: false; readonly state: PairingState; readonly message: string };

/** One try of a code. A right one is used up; five wrong ones end it. */
export function tryCode(state: PairingState, typed: string, name: string, now: number): PairingTry {
  const { code } = state;
  if (code === null || now > code.endsAt || code.triesLeft <= 0)
    return {
      ok: false,
      state: { ...state, code: null },
      message: "No code is open for pairing: ask for a new one on the bench.",
    };
  const digits = typed.replace(/\D/g, "").slice(0, 20);
  if (!sameSecret(digits, code.digits)) {
    const triesLeft = code.triesLeft - 1;
    return {
      ok: false,
      state: { ...state, code: triesLeft === 0 ? null : { ...code, triesLeft } },
      message:
        triesLeft === 0
          ? "That was not the code, for the fifth time: ask for a new one on the bench."
          : `That is not the code that the bench shows; ${triesLeft} ${triesLeft === 1 ? "try is" : "tries are"} left.`,
    };
  }
  const secret = randomBytes(32).toString("base64url");
  const device: PairedDevice = {
    id: randomBytes(8).toString("hex"),
    name: name.trim().slice(0, 80) || "a tablet",
    pairedAt: new Date(now).toISOString(),
    secretHash: hashOf(secret),
  };
  return { ok: true, state: { code: null, devices: [...state.devices, device] }, secret, device };
}

/** The device that holds this secret; null: none does. */
export function deviceOf(state: PairingState, secret: string): PairedDevice | null {
  const hash = hashOf(secret);
  return state.devices.find((device) => sameSecret(device.secretHash, hash)) ?? null;
}

export function withoutDevice(state: PairingState, id: string): PairingState {
  return { ...state, devices: state.devices.filter((device) => device.id !== id) };
}

function hashOf(secret: string): string {
  return createHash("sha256").update(secret).digest("hex");
}

/** Compared in a time that does not tell how far they agree. */
function sameSecret(a: string, b: string): boolean {
  const [x, y] = [a, b].map((text) => createHash("sha256").update(text).digest());
  return timingSafeEqual(x as Buffer, y as Buffer);
}

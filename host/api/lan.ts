import { discriminatedUnion, literal, strictObject, string, type infer as Typed } from "zod";

/** What the bench's own page asks of the door to the shop's network; a tablet may not. */
export const lanDeed = discriminatedUnion("deed", [
  strictObject({ deed: literal("open"), address: string().max(45) }),
  strictObject({ deed: literal("code") }),
  strictObject({ deed: literal("close") }),
  strictObject({ deed: literal("part"), device: string().max(40) }),
]);

export type LanDeed = Typed<typeof lanDeed>;

/** The door to the shop's own network: shut until the maker opens it, and shut again at the next start. */
export interface LanState {
  /** Addresses of this machine in private networks; empty: it is in none. */
  readonly addresses: readonly string[];
  readonly open: null | {
    /** "https://192.168.1.20:43017/" */
    readonly address: string;
    /** SHA-256 of the certificate, to be compared with what the tablet's browser shows. */
    readonly fingerprint: string;
    readonly code: null | { readonly digits: string; readonly endsAt: string };
  };
  readonly devices: readonly { readonly id: string; readonly name: string; readonly pairedAt: string }[];
}

import type { IncomingMessage, ServerResponse } from "node:http";
import { createServer, type Server } from "node:https";
import type { AddressInfo } from "node:net";
import type { LanDeed, LanState } from "#host/api";
import { fingerprint, makeCertificate, type OwnCertificate, stillServes } from "./certificate.ts";
import { type KeptPairing, readPairing, writePairing } from "./keptPairing.ts";
import { deviceOf, type PairingState, tryCode, withCode, withoutDevice } from "./pairing.ts";
import { codePage, type Given, pathOf, readForm, secretOf, send, strangerWish, welcome } from "./visitor.ts";

export interface DoorOptions {
  /** Where it keeps who is paired. */
  readonly folder: string;
  readonly clock: () => Date;
  /** This machine's addresses in private networks. */
  readonly addresses: () => readonly string[];
  /** Answers a paired tablet's requests, which ask for `host`. */
  readonly answer: (host: string) => (incoming: IncomingMessage, outgoing: ServerResponse) => void;
  /** Whether a port is one that browsers refuse. */
  readonly refused: (port: number) => boolean;
  /** Headers of every answer that is given here. */
  readonly headers: Readonly<Record<string, string>>;
}

export type DoorAnswer =
  | { readonly ok: true; readonly state: LanState }
  | { readonly ok: false; readonly message: string };

/** The door to the shop's own network. It listens on one private address, over TLS, and knows paired tablets alone. */
export interface Door {
  state(): LanState;
  does(deed: LanDeed): Promise<DoorAnswer>;
  close(): Promise<void>;
}

export function makeDoor(options: DoorOptions): Door {
  let kept = readPairing(options.folder);
  let pairing: PairingState = { code: null, devices: kept.devices };
  let open: { readonly server: Server; readonly host: string; readonly mark: string } | null = null;
  const now = (): number => options.clock().getTime();

  const keep = (change: Partial<KeptPairing>): void => {
    kept = { ...kept, ...change };
    writePairing(options.folder, kept);
  };
  const take = (next: PairingState): void => {
    const changed = next.devices !== pairing.devices;
    pairing = next;
    if (changed) keep({ devices: next.devices });
  };

  const state = (): LanState => {
    const { code } = pairing;
    const live = code !== null && code.endsAt > now();
    return {
      addresses: options.addresses(),
      open:
        open === null
          ? null
          : {
              address: `https://${open.host}/`,
              fingerprint: open.mark,
              code: live ? { digits: code.digits, endsAt: new Date(code.endsAt).toISOString() } : null,
            },
      devices: pairing.devices.map(({ id, name, pairedAt }) => ({ id, name, pairedAt })),
    };
  };

  const shut = async (): Promise<void> => {
    const was = open;
    open = null;
    pairing = { ...pairing, code: null };
    if (was === null) return;
    await new Promise<void>((gone) => {
      was.server.close(() => gone());
      was.server.closeAllConnections();
    });
  };

  const certificateFor = async (address: string): Promise<OwnCertificate> => {
    if (kept.certificate !== null && stillServes(kept.certificate, [address], options.clock()))
      return kept.certificate;
    const certificate = await makeCertificate([address], options.clock());
    keep({ certificate });
    return certificate;
  };

  const openAt = async (address: string): Promise<DoorAnswer> => {
    const mine = options.addresses();
    if (!mine.includes(address)) {
      const allowed = mine.length === 0 ? "this machine is in no private network" : mine.join(", ");
      return {
        ok: false,
        message: `"${address.slice(0, 60)}" is not this machine's address in a private network; allowed: ${allowed}.`,
      };
    }
    await shut();
    const certificate = await certificateFor(address);
    const server = createServer({
      cert: certificate.certificate,
      key: certificate.key,
      minVersion: "TLSv1.2",
    });
    const port = await listenOn(server, address, kept.port ?? 0, options.refused);
    if (port === null) return { ok: false, message: `No port could be opened on ${address}.` };
    keep({ port });
    const host = `${address}:${port}`;
    const answer = options.answer(host);
    server.on("request", (incoming, outgoing) => visitor(host, answer, incoming, outgoing));
    open = { server, host, mark: fingerprint(certificate) };
    pairing = withCode(pairing, now());
    return { ok: true, state: state() };
  };

  const visitor = (
    host: string,
    answer: (incoming: IncomingMessage, outgoing: ServerResponse) => void,
    incoming: IncomingMessage,
    outgoing: ServerResponse,
  ): void => {
    const give = (given: Given): void => send(outgoing, given, options.headers);
    const secret = secretOf(incoming);
    if (incoming.headers.host !== host) {
      give({ status: 421, type: "text/plain", body: "This server does not answer under that name." });
    } else if (secret !== null && deviceOf(pairing, secret) !== null) {
      if (pathOf(incoming.url) === "/pair")
        give({ status: 303, type: "text/plain", body: "", headers: { location: "/" } });
      else answer(incoming, outgoing);
    } else {
      const wish = strangerWish(incoming, host);
      if (wish.give !== null) give(wish.give);
      else readForm(incoming, (fields) => give(tried(fields)));
    }
  };

  const tried = (fields: URLSearchParams | null): Given => {
    if (fields === null)
      return { status: 413, type: "text/plain", body: "That is no code.", headers: { connection: "close" } };
    const result = tryCode(pairing, fields.get("code") ?? "", fields.get("name") ?? "", now());
    take(result.state);
    return result.ok ? welcome(result.secret) : codePage(403, result.message);
  };

  return {
    state,
    async does(deed) {
      if (deed.deed === "open") return openAt(deed.address);
      if (deed.deed === "close") await shut();
      if (deed.deed === "part") take(withoutDevice(pairing, deed.device));
      if (deed.deed === "code") {
        if (open === null) return { ok: false, message: "The door is shut: open it first." };
        pairing = withCode(pairing, now());
      }
      return { ok: true, state: state() };
    },
    close: shut,
  };
}

/** Listens on the port if it is free and browsers take it, else on another; null: on none. */
async function listenOn(
  server: Server,
  address: string,
  port: number,
  refused: (port: number) => boolean,
): Promise<number | null> {
  for (const wanted of [port, 0, 0, 0]) {
    const got = await new Promise<number | null>((settle) => {
      const no = (): void => settle(null);
      server.once("error", no);
      server.listen(wanted, address, () => {
        server.off("error", no);
        settle((server.address() as AddressInfo).port);
      });
    });
    if (got !== null && !refused(got)) return got;
    if (got !== null) await new Promise((gone) => server.close(gone));
  }
  return null;
}

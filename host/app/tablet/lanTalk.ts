import { type LanDeed, type LanState, pageHeader, type Refusal, routes } from "#host/api";

export type LanSaid =
  | { readonly ok: true; readonly state: LanState }
  | { readonly ok: false; readonly message: string };

/** Asks how the door to the shop's network stands, or that it do something. */
export async function askDoor(deed: LanDeed | null): Promise<LanSaid> {
  try {
    const response = await fetch(
      routes.lan,
      deed === null
        ? {}
        : {
            method: "POST",
            headers: { "content-type": "application/json", [pageHeader]: crypto.randomUUID() },
            body: JSON.stringify(deed),
          },
    );
    const said: unknown = await response.json();
    return response.ok
      ? { ok: true, state: said as LanState }
      : { ok: false, message: (said as Refusal).message };
  } catch {
    return { ok: false, message: "The server does not answer." };
  }
}

import { describe, expect, it } from "vitest";
import { deviceOf, nothingPaired, tryCode, withCode, withoutDevice } from "./pairing.ts";
import { shopAddresses } from "./shopAddresses.ts";

const now = Date.parse("2026-11-26T08:00:00Z");

describe("pairing a tablet", () => {
  it("takes the shown code once, however it is spaced, and knows the tablet by its secret afterwards", () => {
    const open = withCode(nothingPaired, now);
    const digits = open.code!.digits;
    expect(digits).toMatch(/^\d{8}$/);
    const paired = tryCode(open, ` ${digits.slice(0, 4)} ${digits.slice(4)} `, "tablet at the bench", now);
    expect(paired.ok).toBe(true);
    if (!paired.ok) return;
    expect(deviceOf(paired.state, paired.secret)?.name).toBe("tablet at the bench");
    expect(deviceOf(paired.state, `${paired.secret}x`)).toBeNull();
    expect(JSON.stringify(paired.state)).not.toContain(paired.secret);
    expect(tryCode(paired.state, digits, "another", now).ok).toBe(false);
    expect(deviceOf(withoutDevice(paired.state, paired.device.id), paired.secret)).toBeNull();
  });

  it("ends a code after five wrong tries, so that the right one is refused as well", () => {
    let state = withCode(nothingPaired, now);
    const digits = state.code!.digits;
    const wrong = String((Number(digits) + 1) % 1e8).padStart(8, "0");
    for (let i = 0; i < 5; i++) state = tryCode(state, wrong, "", now).state;
    expect(tryCode(state, digits, "", now).ok).toBe(false);
  });

  it("ends a code after five minutes, and an older code when a new one is shown", () => {
    const open = withCode(nothingPaired, now);
    expect(tryCode(open, open.code!.digits, "", now + 301e3).ok).toBe(false);
    const newer = withCode(open, now);
    const same = newer.code!.digits === open.code!.digits;
    expect(tryCode(newer, open.code!.digits, "", now).ok).toBe(same);
  });

  it("refuses when no code is open", () => {
    expect(tryCode(nothingPaired, "00000000", "", now).ok).toBe(false);
  });
});

describe("the shop's own network", () => {
  const at = (address: string, internal = false, family: "IPv4" | "IPv6" = "IPv4") =>
    ({ address, internal, family, netmask: "", mac: "", cidr: null, scopeid: 0 }) as never;

  it("is the private ranges of RFC 1918, and nothing else", () => {
    const found = shopAddresses({
      lo: [at("127.0.0.1", true)],
      a: [
        at("192.168.1.20"),
        at("172.16.0.1"),
        at("172.31.255.1"),
        at("10.9.8.7"),
        at("fe80::1", false, "IPv6"),
      ],
      b: [at("172.32.0.1"), at("192.169.0.1"), at("8.8.4.4"), at("169.254.1.1")],
      c: undefined,
    });
    expect(found).toEqual(["10.9.8.7", "172.16.0.1", "172.31.255.1", "192.168.1.20"]);
  });
});

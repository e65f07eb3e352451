import { X509Certificate } from "node:crypto";
import { describe, expect, it } from "vitest";
import { fingerprint, makeCertificate, stillServes } from "./certificate.ts";

const now = new Date("2026-11-26T08:00:00Z");

describe("the bench's own certificate", () => {
  it("is one that OpenSSL's reader takes: names, use, times, and a signature by its own key", async () => {
    const made = await makeCertificate(["192.168.1.20", "10.0.0.7"], now);
    const read = new X509Certificate(made.certificate);
    expect(read.verify(read.publicKey)).toBe(true);
    expect(read.checkIP("192.168.1.20")).toBe("192.168.1.20");
    expect(read.checkIP("192.168.1.21")).toBeUndefined();
    expect(read.ca).toBe(false);
    // id-kp-serverAuth, RFC 5280 4.2.1.12
    expect(read.keyUsage).toEqual(["1.3.6.1.5.5.7.3.1"]);
    const lives = (new Date(read.validTo).getTime() - new Date(read.validFrom).getTime()) / 86_400_000;
    expect(lives).toBeLessThanOrEqual(398);
    expect(fingerprint(made)).toBe(read.fingerprint256);
  });

  it("serves until a month before its end, and only the addresses it was made for", async () => {
    const made = await makeCertificate(["192.168.1.20"], now);
    const later = (days: number) => new Date(now.getTime() + days * 86_400_000);
    expect(stillServes(made, ["192.168.1.20"], now)).toBe(true);
    expect(stillServes(made, ["192.168.1.20"], later(360))).toBe(true);
    expect(stillServes(made, ["192.168.1.20"], later(370))).toBe(false);
    expect(stillServes(made, ["192.168.1.20"], later(-3))).toBe(false);
    expect(stillServes(made, ["192.168.1.21"], now)).toBe(false);
    expect(stillServes({ ...made, certificate: "torn" }, ["192.168.1.20"], now)).toBe(false);
  });

  it("has a key of its own each time", async () => {
    const [a, b] = [await makeCertificate(["10.0.0.7"], now), await makeCertificate(["10.0.0.7"], now)];
    expect(a.key).not.toBe(b.key);
    expect(fingerprint(a)).not.toBe(fingerprint(b));
  });
});

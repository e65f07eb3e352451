import type { NetworkInterfaceInfo } from "node:os";

/** This machine's addresses in private networks (RFC 1918), where a shop's tablet could reach it; nothing else is ever listened on. */
export function shopAddresses(
  interfaces: Readonly<Record<string, readonly NetworkInterfaceInfo[] | undefined>>,
): readonly string[] {
  return Object.values(interfaces)
    .flatMap((list) => list ?? [])
    .filter(({ family, internal, address }) => family === "IPv4" && !internal && isPrivate(address))
    .map(({ address }) => address)
    .sort();
}

function isPrivate(address: string): boolean {
  const [a, b] = address.split(".").map(Number);
  return a === 10 || (a === 192 && b === 168) || (a === 172 && b !== undefined && b >= 16 && b <= 31);
}

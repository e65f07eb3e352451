/** What a tablet in the shop's own network needs to reach the bench: addresses, a certificate, and pairing by a code. */
export { fingerprint, makeCertificate, type OwnCertificate, stillServes } from "./certificate.ts";
export {
  deviceOf,
  nothingPaired,
  type PairedDevice,
  type PairingState,
  tryCode,
  withCode,
  withoutDevice,
} from "./pairing.ts";
export { shopAddresses } from "./shopAddresses.ts";

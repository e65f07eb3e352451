/** What a tablet in the shop's own network needs to reach the bench: an address, a certificate, and pairing by a code. */
export { type Door, makeDoor } from "./door.ts";
export { shopAddresses } from "./shopAddresses.ts";

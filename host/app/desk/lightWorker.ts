/** Entry of the desk's light worker: what is quick, and all that the first sight of an instrument asks for. */
import { lightDuties } from "./lightDuties.ts";
import { type DeskScope, serveLine } from "./serveLine.ts";

serveLine(lightDuties(), globalThis as unknown as DeskScope);

/** The desk without a page around it, for desk.mjs. */
import { deskDeeds } from "../host/app/desk/deskDeeds.ts";
import { useDesk } from "../host/app/desk/useDesk.ts";

globalThis.desk = { deeds: deskDeeds, state: useDesk.getState, subscribe: useDesk.subscribe };

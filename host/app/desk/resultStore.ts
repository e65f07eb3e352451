import { limits, pageHeader, routes } from "#host/api";
import { decodeResult, encodeResult } from "./resultCodec.ts";

/** Results kept by the server for the next time. Nothing depends on it: what cannot be had is computed. */
export interface ResultStore {
  /** null: it is not there, or not to be trusted. */
  get(key: string): Promise<unknown>;
  /** Never rejects; a result that cannot be kept is not kept. */
  put(key: string, value: unknown): Promise<void>;
}

/** `engine`: names the very code that computes, so that a newer one never reads an older one's results. */
export function serverResults(engine: string, page: string): ResultStore {
  return {
    get: async (key) => {
      try {
        const response = await fetch(routes.result(key));
        if (!response.ok) return null;
        return decodeResult(new Uint8Array(await response.arrayBuffer()), engine, key);
      } catch {
        return null;
      }
    },
    put: async (key, value) => {
      try {
        const body = encodeResult(value, engine, key);
        if (body.length > limits.result) return;
        await fetch(routes.result(key), {
          method: "PUT",
          headers: { [pageHeader]: page, "content-type": "application/octet-stream" },
          body,
        });
      } catch {
        // the server is away: computed again the next time
      }
    },
  };
}

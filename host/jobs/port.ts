/** The wire between a crew and one worker, whichever kind of worker it is. */
export interface WorkerPort {
  post(message: ToWorker): void;
  /** The one listener of what the worker says; called with null when the worker has died, with the reason. */
  listen(hear: (message: FromWorker | null, reason: string) => void): void;
  end(): void;
}

export interface ToWorker {
  readonly job: number;
  readonly kind: string;
  readonly input: unknown;
  /** One shared number, not 0 once the job is called off; null where memory cannot be shared. */
  readonly callOff: Int32Array | null;
}

export type FromWorker =
  | { readonly job: number; readonly says: "progress"; readonly fraction: number }
  | { readonly job: number; readonly says: "outcome"; readonly outcome: unknown }
  | { readonly job: number; readonly says: "thrown"; readonly error: string };

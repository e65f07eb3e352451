import type { ReactNode } from "react";
import { deskDeeds } from "../desk/deskDeeds.ts";
import type { Stage } from "../desk/deskTypes.ts";
import { Button, Progress } from "../kit/index.ts";

/** A result with how it stands: under way (and the way to end it), of an earlier state, failed and why, or not there. */
export function Computed<T>({
  stage,
  heavy,
  name,
  children,
}: {
  readonly stage: Stage<T>;
  /** Computed only when it is wanted. */
  readonly heavy?: "voice" | "load";
  /** "The voice". */
  readonly name: string;
  readonly children: (value: T) => ReactNode;
}) {
  const { status, value, fresh, fault } = stage;
  const again =
    heavy === undefined ? null : (
      <Button kind={value === null ? "main" : "plain"} onPress={() => deskDeeds.want(heavy)}>
        Compute {name.toLowerCase()}
      </Button>
    );
  return (
    <>
      {status === "working" || (status === "waiting" && heavy !== undefined) ? (
        <div className="under-way">
          <Progress
            words={stage.words === "" ? `${name} waits its turn` : stage.words}
            fraction={stage.fraction}
            {...(heavy === undefined ? {} : { onCancel: () => deskDeeds.cancel(heavy) })}
          />
        </div>
      ) : null}
      {status === "failed" ? (
        <p className="fault-note" role="alert">
          {name} could not be computed: {fault} {again}
        </p>
      ) : null}
      {status === "cancelled" ? (
        <p>
          {name} was stopped. {again}
        </p>
      ) : null}
      {value === null ? (
        status === "none" ? (
          <p className="soft">
            {name} is not computed yet. {again}
          </p>
        ) : null
      ) : (
        <div className={fresh ? "computed" : "computed stale"}>
          {fresh ? null : <p className="note">Figures of an earlier state of the document.</p>}
          {children(value)}
        </div>
      )}
    </>
  );
}

/** What the model promises beside its figures, in its own words. */
export function Validity({ words }: { readonly words: string }) {
  return (
    <p className="note validity">
      <span className="soft">Holds for: </span>
      {words}.
    </p>
  );
}

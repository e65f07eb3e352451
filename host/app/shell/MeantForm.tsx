import { useState } from "react";
import type { Verdict } from "#engine/verdicts";
import { benchDeeds, type Json, useBench } from "../bench/index.ts";
import { Button, Field } from "../kit/index.ts";

/** The maker's reason for wanting it so, written into the document. A reason excuses a departure from custom, not a danger. */
export function MeantForm({ verdict, onDone }: { readonly verdict: Verdict; readonly onDone: () => void }) {
  const [reason, setReason] = useState(verdict.meant ?? "");
  const [fault, setFault] = useState<string | null>(null);
  const write = async (text: string) => {
    const marks = useBench.getState().open?.document["meant"];
    const others = (Array.isArray(marks) ? marks : []).filter((mark) => markOf(mark) !== verdict.id);
    const next: Json = text === "" ? others : [...others, { verdict: verdict.id, reason: text }];
    const cause =
      text === "" ? `${verdict.title}: no longer meant` : `${verdict.title}: meant, because ${text}`;
    const answer = await benchDeeds.edit(
      [{ path: "meant", value: next.length === 0 ? undefined : next }],
      cause.slice(0, 300),
    );
    if (answer.ok) onDone();
    else setFault(answer.issues[0]?.message ?? "This could not be written.");
  };
  return (
    <form
      onSubmit={(e) => {
        e.preventDefault();
        if (reason.trim() === "") setFault("Say why: a mark without a reason is no mark.");
        else void write(reason.trim());
      }}
    >
      <Field
        label="I mean it, because"
        value={reason}
        onChange={(text) => {
          setReason(text);
          setFault(null);
        }}
        fault={fault}
        lines={2}
        help={
          verdict.level === "stop" && verdict.canHurt
            ? "The reason is kept and shown, but someone can be hurt by this: the stop keeps counting."
            : "The verdict keeps its level; your reason stands beside it on every sheet."
        }
      />
      <div className="row">
        <Button type="submit" kind="main">
          Write it down
        </Button>
        {verdict.meant === undefined ? null : <Button onPress={() => void write("")}>No longer meant</Button>}
      </div>
    </form>
  );
}

function markOf(mark: Json): Json | undefined {
  return typeof mark === "object" && mark !== null && !Array.isArray(mark)
    ? (mark as { readonly [key: string]: Json })["verdict"]
    : undefined;
}

import { useState } from "react";
import type { EditAnswer } from "../bench/index.ts";

/** What became of a deed: why it was refused, or that it is done. */
export function useDeed() {
  const [fault, setFault] = useState<string | null>(null);
  const [done, setDone] = useState(false);
  const does = async (deed: Promise<EditAnswer>): Promise<boolean> => {
    const answer = await deed;
    setDone(answer.ok);
    setFault(
      answer.ok
        ? null
        : [answer.issues[0]?.message, answer.issues[0]?.remedy].filter((w) => w !== undefined).join(" "),
    );
    return answer.ok;
  };
  return { fault, done, does };
}

import { useEffect, useState } from "react";
import { useBench } from "../bench/index.ts";
import { useDesk } from "../desk/useDesk.ts";
import { IconButton } from "../kit/index.ts";

/** What the maker should know of store and page now, each until it is read. */
export function Notices() {
  const notices = useBench((bench) => bench.notices);
  const stranded = useBench((bench) => bench.stranded.length);
  const [read, setRead] = useState<ReadonlySet<string>>(new Set());
  const words = [
    ...new Set(
      stranded === 0
        ? notices
        : [
            ...notices,
            `${stranded} edit${stranded === 1 ? " is" : "s are"} kept in this browser because the server would not take ${stranded === 1 ? "it" : "them"}: see Papers, Set aside.`,
          ],
    ),
  ].filter((notice) => !read.has(notice));
  if (words.length === 0) return null;
  return (
    <ul className="notices" role="status">
      {words.map((notice) => (
        <li key={notice}>
          {notice}
          <IconButton label="Read" sign="close" onPress={() => setRead(new Set([...read, notice]))} />
        </li>
      ))}
    </ul>
  );
}

/** Tells a screen reader what the page shows to the eye: a long computation is done, stopped or failed. */
export function Announcer() {
  const voice = useDesk((desk) => desk.voice.status);
  const load = useDesk((desk) => desk.load.status);
  const [said, setSaid] = useState("");
  useEffect(() => setSaid(sayOf("The voice", voice)), [voice]);
  useEffect(() => setSaid(sayOf("The load", load)), [load]);
  return (
    <p className="unseen" role="status">
      {said}
    </p>
  );
}

function sayOf(name: string, status: string): string {
  if (status === "ready") return `${name} is computed.`;
  if (status === "failed") return `${name} could not be computed.`;
  if (status === "working") return `${name} is being computed.`;
  return "";
}

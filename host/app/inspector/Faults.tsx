import type { RefusedPlace } from "#host/api";
import { type Json, useBench } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { namesOf } from "./fieldDeeds.ts";

/** Why something was refused: what was found, what is allowed, how it is typed. In the field's own place. */
export function Faults({
  issues,
  path,
  id,
  onTake,
}: {
  readonly issues: readonly RefusedPlace[];
  /** The field in whose place they are shown. */
  readonly path: string;
  readonly id?: string;
  /** Takes what the engine proposes instead. */
  readonly onTake?: (text: string) => void;
}) {
  const document = useBench((bench) => bench.open?.document);
  return (
    <div className="faults" id={id} role="alert">
      {issues.slice(0, 4).map((issue) => (
        <p key={`${issue.path} ${issue.code} ${issue.message}`} className="fault">
          <Where issue={issue} path={path} document={document ?? {}} />
          {issue.message}
          {issue.allowed === undefined ? null : <> Allowed: {issue.allowed}.</>}
          <Example issue={issue} {...(onTake === undefined ? {} : { onTake })} />
          {issue.remedy === undefined ? null : <> {issue.remedy}</>}
        </p>
      ))}
      {issues.length > 4 ? <p className="fault">And {issues.length - 4} more.</p> : null}
    </div>
  );
}

/** A change here may be refused for what it does elsewhere. */
function Where({
  issue,
  path,
  document,
}: {
  readonly issue: RefusedPlace;
  readonly path: string;
  readonly document: Json;
}) {
  if (issue.path === "" || issue.path === path || path.startsWith(issue.path) || issue.path.startsWith(path))
    return null;
  return <strong>{namesOf(document, issue.path)}: </strong>;
}

/** Where a number only lacks its unit, the mended text is one press away. */
function Example({
  issue,
  onTake,
}: {
  readonly issue: RefusedPlace;
  readonly onTake?: (text: string) => void;
}) {
  if (issue.example === undefined) return null;
  const text = issue.example.replace(/^"(.*)"$/, "$1");
  if ((issue.code === "bare" || issue.code === "doubtful") && onTake !== undefined)
    return (
      <>
        {" "}
        <Button className="take" onPress={() => onTake(text)}>
          Take {text}
        </Button>
      </>
    );
  return <> For example {text}.</>;
}

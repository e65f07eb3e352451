import { PlanView, type Showing } from "../../plan/index.ts";
import { LoadLine } from "../LoadLine.tsx";

/** The sheet that is worked on; with the load beside it where braces are moved. */
export function PlanPage({
  subject,
  showing,
  loaded = false,
}: {
  readonly subject: "outline" | "braces";
  readonly showing: Showing;
  readonly loaded?: boolean;
}) {
  return (
    <>
      {loaded ? <LoadLine /> : null}
      <div className="work-fill">
        <PlanView subject={subject} showing={showing} />
      </div>
    </>
  );
}

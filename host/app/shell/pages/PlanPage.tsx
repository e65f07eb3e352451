import { PlanView, type Showing } from "../../plan/index.ts";
import { Cautions } from "../Cautions.tsx";
import { LoadLine } from "../LoadLine.tsx";
import { braceCautions, outlineCautions } from "../stageCautions.ts";

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
      <Cautions words={subject === "braces" ? braceCautions : outlineCautions} />
    </>
  );
}

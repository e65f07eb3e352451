import { lazy, type ReactNode, Suspense } from "react";
import { ListenPanel } from "../../listen/index.ts";
import type { StageEntry } from "../stages.ts";
import { ActionPage } from "./ActionPage.tsx";
import { BriefPage } from "./BriefPage.tsx";
import { BuzzPage } from "./BuzzPage.tsx";
import { FretsPage } from "./FretsPage.tsx";
import { IntonationPage } from "./IntonationPage.tsx";
import { LoadDrawings } from "./LoadDrawings.tsx";
import { LoadPage } from "./LoadPage.tsx";
import { NeckPage } from "./NeckPage.tsx";
import { OutlinePage } from "./OutlinePage.tsx";
import { PlanPage } from "./PlanPage.tsx";
import { StringsPage } from "./StringsPage.tsx";
import { VoiceBoard } from "./VoiceBoard.tsx";
import { VoiceModes } from "./VoiceModes.tsx";
import { VoiceResponse } from "./VoiceResponse.tsx";

const ComparePanel = lazy(() =>
  import("../../views/ComparePanel.tsx").then((m) => ({ default: m.ComparePanel })),
);

/** What is shown in the middle, by stage and view. */
export function stagePicture({ id }: StageEntry, view: string): ReactNode {
  switch (`${id} ${view}`) {
    case "brief agreed":
      return <BriefPage />;
    case "outline plan":
      return <PlanPage subject="outline" showing="plan" />;
    case "outline side":
      return <PlanPage subject="outline" showing="side" />;
    case "outline section":
      return <PlanPage subject="outline" showing="section" />;
    case "outline figures":
      return <OutlinePage />;
    case "bracing plan":
      return <PlanPage subject="braces" showing="plan" loaded />;
    case "bracing section":
      return <PlanPage subject="braces" showing="section" loaded />;
    case "neck side":
      return <PlanPage subject="outline" showing="side" />;
    case "strings strings":
      return <StringsPage />;
    case "strings frets":
      return <FretsPage />;
    case "neck figures":
      return <NeckPage />;
    case "load figures":
      return <LoadPage />;
    case "load drawings":
      return <LoadDrawings />;
    case "setup action":
      return <ActionPage />;
    case "setup buzz":
      return <BuzzPage />;
    case "setup intonation":
      return <IntonationPage />;
    case "bracing board":
    case "voice board":
      return <VoiceBoard />;
    case "voice response":
      return <VoiceResponse />;
    case "voice modes":
      return <VoiceModes />;
    case "voice listen":
      return <ListenPanel />;
    case "voice compare":
      return (
        <Suspense fallback={<p role="status">Laying both out.</p>}>
          <ComparePanel />
        </Suspense>
      );
    default:
      return null;
  }
}

import { lazy, type ReactNode } from "react";
import type { StageEntry } from "../stages.ts";
import { BriefPage } from "./BriefPage.tsx";
import { OutlinePage } from "./OutlinePage.tsx";
import { PlanPage } from "./PlanPage.tsx";

// fetched when first looked at: the first load brings what the first sight needs
const ActionPage = lazy(() => import("./ActionPage.tsx").then((m) => ({ default: m.ActionPage })));
const BuzzPage = lazy(() => import("./BuzzPage.tsx").then((m) => ({ default: m.BuzzPage })));
const ComparePanel = lazy(() =>
  import("../../views/ComparePanel.tsx").then((m) => ({ default: m.ComparePanel })),
);
const FretsPage = lazy(() => import("./FretsPage.tsx").then((m) => ({ default: m.FretsPage })));
const IntonationPage = lazy(() =>
  import("./IntonationPage.tsx").then((m) => ({ default: m.IntonationPage })),
);
const ListenPanel = lazy(() =>
  import("../../listen/ListenPanel.tsx").then((m) => ({ default: m.ListenPanel })),
);
const LoadDrawings = lazy(() => import("./LoadDrawings.tsx").then((m) => ({ default: m.LoadDrawings })));
const LoadPage = lazy(() => import("./LoadPage.tsx").then((m) => ({ default: m.LoadPage })));
const NeckPage = lazy(() => import("./NeckPage.tsx").then((m) => ({ default: m.NeckPage })));
const StringsPage = lazy(() => import("./StringsPage.tsx").then((m) => ({ default: m.StringsPage })));
const VoiceBoard = lazy(() => import("./VoiceBoard.tsx").then((m) => ({ default: m.VoiceBoard })));
const VoiceModes = lazy(() => import("./VoiceModes.tsx").then((m) => ({ default: m.VoiceModes })));
const VoiceResponse = lazy(() => import("./VoiceResponse.tsx").then((m) => ({ default: m.VoiceResponse })));

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
      return <ComparePanel />;
    default:
      return null;
  }
}

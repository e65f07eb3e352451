import { TabletDialog } from "../../tablet/TabletDialog.tsx";
import { Backups } from "./Backups.tsx";
import { BringIn } from "./BringIn.tsx";
import { History } from "./History.tsx";
import { Keepsakes } from "./Keepsakes.tsx";
import { Keys } from "./Keys.tsx";
import { PutAway } from "./PutAway.tsx";
import type { Paper } from "./papers.ts";
import { SetAside } from "./SetAside.tsx";

export function PaperDialog({ paper, onClose }: { readonly paper: Paper; readonly onClose: () => void }) {
  switch (paper) {
    case "keepsakes":
      return <Keepsakes onClose={onClose} />;
    case "history":
      return <History onClose={onClose} />;
    case "aside":
      return <SetAside onClose={onClose} />;
    case "backups":
      return <Backups onClose={onClose} />;
    case "bringIn":
      return <BringIn onClose={onClose} />;
    case "keys":
      return <Keys onClose={onClose} />;
    case "putAway":
      return <PutAway onClose={onClose} />;
    case "tablet":
      return <TabletDialog isOpen onClose={onClose} />;
  }
}

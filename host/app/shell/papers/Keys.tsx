import { Dialog } from "../../kit/index.ts";
import { FiguresList } from "../FiguresList.tsx";

/** What the keys do. */
export function Keys({ onClose }: { readonly onClose: () => void }) {
  return (
    <Dialog title="Keys" isOpen onClose={onClose}>
      <FiguresList
        rows={[
          ["Tab, Shift and Tab", "to the next part of the page and back; the red frame shows where you are"],
          ["Ctrl and Z", "undo; with Shift, redo (on a Mac, the command key)"],
          ["Alt and 1 to 8", "to that stage"],
          ["Arrows in the stages", "along them; Enter opens one"],
          ["Arrows on the drawing", "move what is chosen by a step, with Shift by ten"],
          ["Arrows on the note board", "from note to note; Enter sounds it"],
          ["Enter in a field", "keeps what you typed; Escape takes it back"],
          ["Escape", "closes what lies over the sheet"],
        ]}
      />
    </Dialog>
  );
}

import { useDesk } from "../../desk/useDesk.ts";
import { ListenLine, playNote } from "../../listen/index.ts";
import { NoteBoardView } from "../../views/NoteBoardView.tsx";
import { Computed } from "../Computed.tsx";
import { LoadLine } from "../LoadLine.tsx";

/** Every note on the real fingerboard; the load stands beside, because what helps the one may cost the other. */
export function VoiceBoard() {
  const voice = useDesk((desk) => desk.voice);
  const live = useDesk((desk) => desk.live);
  return (
    <>
      <LoadLine />
      <Computed stage={voice} name="The voice" heavy="voice">
        {({ view }) => (
          <>
            <NoteBoardView view={view} live={live} onPlay={playNote} />
            <ListenLine />
          </>
        )}
      </Computed>
    </>
  );
}

import { useDesk } from "../../desk/useDesk.ts";
import { ResponseView } from "../../views/ResponseView.tsx";
import { Computed } from "../Computed.tsx";
import { LoadLine } from "../LoadLine.tsx";

/** What the body answers at the saddle and one metre away. */
export function VoiceResponse() {
  const voice = useDesk((desk) => desk.voice);
  const live = useDesk((desk) => desk.live);
  return (
    <>
      <LoadLine />
      <Computed stage={voice} name="The voice" heavy="voice">
        {({ view }) => <ResponseView view={view} live={live} />}
      </Computed>
    </>
  );
}

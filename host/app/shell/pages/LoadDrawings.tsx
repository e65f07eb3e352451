import { useDesk } from "../../desk/useDesk.ts";
import { Cautions } from "../Cautions.tsx";
import { Computed } from "../Computed.tsx";
import { ReportPictures } from "../ReportPictures.tsx";
import { loadStageCautions } from "../stageCautions.ts";

/** The guitar as it gives under its strings, and where its wood works. */
export function LoadDrawings() {
  const load = useDesk((desk) => desk.load);
  return (
    <>
      <Computed stage={load} name="The load" heavy="load">
        {() => <ReportPictures kind="load" name="Drawings of the load" fresh={load.fresh} />}
      </Computed>
      <Cautions words={load.value?.cautions ?? loadStageCautions} />
    </>
  );
}

import { FileTrigger } from "react-aria-components/FileTrigger";
import { routes } from "#host/api";
import { benchDeeds, useBench } from "../../bench/index.ts";
import { Button, Dialog } from "../../kit/index.ts";
import { saveFile } from "../saveFile.ts";
import { useDeed } from "../useDeed.ts";

/** One file with everything, out and in; and the bare document. */
export function BringIn({ onClose }: { readonly onClose: () => void }) {
  const id = useBench((bench) => bench.open?.id ?? "");
  const name = useBench((bench) => bench.open?.name ?? "");
  const { fault, done, does } = useDeed();
  const document = () => {
    const text = useBench.getState().open?.text ?? "";
    saveFile(new Blob([text], { type: "application/json" }), `${name}.fairbout.json`);
  };
  return (
    <Dialog title="Take out and bring in" isOpen onClose={onClose}>
      <h3>Take out</h3>
      <ul className="lines">
        <li>
          <span>{name}, with its history, keepsakes and attachments</span>
          <a className="button" href={routes.archive(id)} download>
            Save the file
          </a>
        </li>
        <li>
          <span>Every instrument of this bench</span>
          <a className="button" href={routes.archive()} download>
            Save the file
          </a>
        </li>
        <li>
          <span>The document of {name} alone, as it stands</span>
          <Button onPress={document}>Save the document</Button>
        </li>
      </ul>
      <h3>Bring in</h3>
      <p>What the file holds is added beside what is here; nothing is replaced.</p>
      <FileTrigger
        onSelect={(files) => {
          const file = files?.[0];
          if (file !== undefined) void does(benchDeeds.bringIn(file));
        }}
      >
        <Button>Choose a file</Button>
      </FileTrigger>
      {fault === null ? null : (
        <p role="alert" className="accent">
          {fault}
        </p>
      )}
      {done ? <p role="status">It is in: see the list of instruments.</p> : null}
    </Dialog>
  );
}

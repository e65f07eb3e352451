import { Sheet } from "../kit/index.ts";

/** Where the work can hurt someone; stands where the step is. */
export function Cautions({ words }: { readonly words: readonly string[] }) {
  return (
    <Sheet heading="Where it can hurt">
      <ul className="cautions">
        {words.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <p className="note">
        Local codes, the product's safety sheet and licensed practice go before anything said here.
      </p>
    </Sheet>
  );
}

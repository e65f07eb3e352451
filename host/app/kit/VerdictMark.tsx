import type { Level } from "#engine/verdicts";

/** The shape says the level without colour; the word stands beside it, or, with `alone`, is read out. */
export function VerdictMark({ level, alone = false }: { readonly level: Level; readonly alone?: boolean }) {
  return (
    <span className={`level ${level}`}>
      <svg className={`mark ${level}`} viewBox="0 0 24 24" aria-hidden="true">
        {level === "good" ? (
          <>
            <circle cx="12" cy="12" r="9.5" />
            <path d="M7.5 12.5l3 3 6-6.5" />
          </>
        ) : level === "watch" ? (
          <>
            <path d="M12 3L22 21H2Z" />
            <path d="M12 9.5v5.5M12 17v1.6" />
          </>
        ) : (
          <>
            <path className="solid" d="M8 2.5h8L21.5 8v8L16 21.5H8L2.5 16V8Z" />
            <path className="bar" d="M7 12h10" />
          </>
        )}
      </svg>
      <span className={alone ? "unseen" : ""}>{level}</span>
    </span>
  );
}

import type { Crew, stageJobs } from "#engine/pipeline";
import { nodeCrew } from "#host/jobs";

/** Who does the pipeline's jobs for a verb. */
export type Hands = Crew<typeof stageJobs>;

/**
 * Hires workers, lets `use` work with them, and dismisses them. A worker loads what it runs for as long as a document takes to
 * be read and checked: hired before, it is ready when there is work.
 */
export async function withHands<T>(use: (hands: Hands) => Promise<T>): Promise<T> {
  const crew = nodeCrew<typeof stageJobs>();
  try {
    return await use(crew);
  } finally {
    crew.close();
  }
}

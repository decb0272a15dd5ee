/** The stages of an audit, in their order. */
export const STAGES = ['waiting', 'reading', 'judging', 'sizing', 'writing'] as const;

export type Stage = (typeof STAGES)[number];

/** How far an audit has come. */
export interface Progress {
  readonly stage: Stage;
  /** Of the whole work, 0 to 1 in steps of 0.01; rounded down, so that 1 is all of it. */
  readonly share: number;
}

export type OnProgress = (progress: Progress) => void;

/**
 * What each stage takes of the whole, in hundredths. Measured with the campus of `test/bench` on 2026-11-27 (Node 20, two
 * cores), stage by stage in one process, medians of two times five audits after a first one: reading 50 and 51 %, plant,
 * balances and rules 12 and 11 %, proposals and moves 15 and 15 %, report and JSON 22 and 23 %. Of a small archive reading
 * takes four fifths; it is over before anybody looks. Waiting is no work.
 */
const HUNDREDTHS: { readonly [stage in Stage]: number } = {
  waiting: 0,
  reading: 50,
  judging: 12,
  sizing: 15,
  writing: 23,
};

/** Before anything is done, and when all is. */
export const NOTHING_DONE: Progress = { stage: 'waiting', share: 0 };
export const ALL_DONE: Progress = { stage: 'writing', share: 1 };

/** Told, as often as one likes, how much of something is done, 0 to 1. */
export type Tell = (part: number) => void;

/** Where nobody wants to know. */
export const NOBODY: Tell = () => {};

/**
 * Makes of parts of stages a share of the whole that never goes down, and passes it on only where stage or share is
 * another than before. What is told of a stage that is over is dropped.
 */
export class ProgressMeter {
  readonly #onProgress: OnProgress | undefined;
  #stage = -1;
  #hundredths = 0;

  constructor(onProgress: OnProgress | undefined) {
    this.#onProgress = onProgress;
  }

  /** How a stage tells of itself. */
  of(stage: Stage): Tell {
    return (part) => this.at(stage, part);
  }

  at(stage: Stage, part: number): void {
    const index = STAGES.indexOf(stage);
    if (index < this.#stage) return;
    const inStage = part > 0 ? HUNDREDTHS[stage] * Math.min(part, 1) : 0; // nothing of nothing is no number
    const hundredths = Math.max(this.#hundredths, before(index) + Math.floor(inStage));
    if (index === this.#stage && hundredths === this.#hundredths) return;
    this.#stage = index;
    this.#hundredths = hundredths;
    this.#onProgress?.({ stage, share: hundredths / 100 });
  }
}

function before(index: number): number {
  return STAGES.slice(0, index).reduce((sum, stage) => sum + HUNDREDTHS[stage], 0);
}

/** How pieces of work that follow each other tell of themselves, each of which takes as much as it is large. */
export function divided(tell: Tell, sizes: readonly number[]): Tell[] {
  const all = sizes.reduce((sum, size) => sum + size, 0);
  let done = 0;
  return sizes.map((size) => {
    const start = done;
    done += size;
    return (part) => tell((start + size * part) / all);
  });
}

import type { Highs, Model, ModelData } from 'highs';

/** A column of an integer program. */
export interface Column {
  readonly cost: number;
  readonly lower: number;
  readonly upper: number;
}

export interface Row {
  readonly terms: readonly (readonly [column: number, factor: number])[];
  readonly lower: number;
  readonly upper: number;
}

/** All columns are whole, and the cost is to be least. */
export interface Program {
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** A solution to begin with. */
  readonly start: readonly number[] | null;
}

export interface Answer {
  /** No solution costs less; infinite where there is none at all, null where nothing is known. */
  readonly bound: number | null;
  /** The best that was found; to be checked by whoever asked. */
  readonly values: readonly number[] | null;
}

const NOTHING: Answer = { bound: null, values: null };

/**
 * The search ends after as many nodes, on any machine at the same; the clock is the outer fence. (Runs in one thread, which
 * the package does not let us choose; the seed is fixed.)
 */
const MOST_NODES = 20_000;

/** A unit of cost less is what counts: every cost is whole. Half of it, so that no rounding passes for one. */
const COST_STEP = 0.5;

/** The solver looks at the clock between its steps only; the rest of the time is for the step that it is in. */
const SHARE_OF_TIME = 0.8;

let loaded: Promise<Highs> | null = null;

/**
 * Solves an integer program by HiGHS. What goes wrong in there is no error here: the answer holds nothing then.
 * @param seconds left; none is spent where there are none
 */
export async function solve(program: Program, seconds: number): Promise<Answer> {
  if (seconds <= 0) return NOTHING;
  const begun = performance.now();
  try {
    loaded ??= fresh();
    const highs = await loaded;
    const left = seconds - (performance.now() - begun) / 1000;
    return highs.withModel(dataOf(program, highs), (model) => answerOf(model, program, highs, left));
  } catch {
    loaded = null; // an instance that aborted is of no more use
    return NOTHING;
  }
}

/** Loaded when it is first of use: it costs start-up. (The package's types are those of its CommonJS form.) */
async function fresh(): Promise<Highs> {
  const { default: load } = await import('highs');
  return (load as unknown as typeof load.default)();
}

function answerOf(model: Model, { start }: Program, highs: Highs, seconds: number): Answer {
  if (seconds <= 0) return NOTHING;
  model.options.set({
    output_flag: false,
    random_seed: 0,
    time_limit: SHARE_OF_TIME * seconds,
    mip_max_nodes: MOST_NODES,
  });
  model.options.set({ mip_rel_gap: 0, mip_abs_gap: COST_STEP });
  if (start !== null) model.setSolution({ colValue: Float64Array.from(start) });
  model.run();
  const status = model.getModelStatus();
  const { modelStatus, solutionStatus } = highs.constants;
  if (status === modelStatus.infeasible) return { bound: Number.POSITIVE_INFINITY, values: null };
  const told = [modelStatus.optimal, modelStatus.timeLimit, modelStatus.solutionLimit, modelStatus.interrupted];
  if (!told.some((known) => known === status)) return NOTHING;
  const found = model.info.get('primal_solution_status') === solutionStatus.feasible;
  const bound = Number(model.info.get('mip_dual_bound'));
  return {
    bound: Number.isFinite(bound) ? wholeAbove(bound) : null,
    values: found ? [...model.getSolution().colValue].map((value) => Math.round(value)) : null,
  };
}

/** The least whole cost that the bound allows; what exceeds a whole number by less than a solver's tolerance is that number. */
function wholeAbove(bound: number): number {
  return Math.ceil(bound - 1e-6 * Math.max(1, Math.abs(bound)));
}

function dataOf({ columns, rows }: Program, highs: Highs): ModelData {
  const starts = [0];
  for (const { terms } of rows) starts.push((starts.at(-1) ?? 0) + terms.length);
  const terms = rows.flatMap((row) => row.terms);
  const within = (bound: number) => Math.max(-highs.infinity, Math.min(highs.infinity, bound));
  return {
    numCols: columns.length,
    numRows: rows.length,
    colCost: columns.map(({ cost }) => cost),
    colLower: columns.map(({ lower }) => lower),
    colUpper: columns.map(({ upper }) => within(upper)),
    rowLower: rows.map(({ lower }) => within(lower)),
    rowUpper: rows.map(({ upper }) => within(upper)),
    integrality: columns.map(() => highs.constants.variableType.integer),
    matrix: {
      format: 'csr',
      numRows: rows.length,
      numCols: columns.length,
      starts: Int32Array.from(starts),
      indices: Int32Array.from(terms.map(([column]) => column)),
      values: Float64Array.from(terms.map(([, factor]) => factor)),
    },
  };
}

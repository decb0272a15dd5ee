/** A device to place. */
export interface SplitItem {
  readonly id: string;
  /** Its current, whole µA from 0 on. */
  readonly ua: number;
  /** Board or room: what stands together should stay together. */
  readonly group: string;
  /** How many places it takes, from 1 on; left out: one. */
  readonly places?: number;
}

export interface SplitProblem {
  readonly items: readonly SplitItem[];
  /** What each segment can carry, net of what it brings with it, whole µA. */
  readonly capacityUa: number;
  /** Devices that each segment can hold, net of what it brings with it. */
  readonly places: number;
  readonly mostSegments: number;
  /** What the search may take at most, s. */
  readonly seconds: number;
}

/** Three objectives, the earlier before the later; each is judged with those before it as they were found. */
export interface Split {
  /** Ids; segments by their first item, items within them as they were given. */
  readonly segments: readonly (readonly string[])[];
  readonly loadsUa: readonly number[];
  /** Over all groups, the segments that each is spread over beyond its first. */
  readonly torn: number;
  /** Of the number of segments, before any search: the greatest of sum, places and Martello–Toth L2. */
  readonly lowerBound: number;
  /**
   * `optimal`: all three objectives are proved, so that the same problem always has the same figures. `within the time`: the
   * solver improved on or proved a part; `heuristic`: it did neither. Only these two can depend on the machine's speed.
   */
  readonly method: 'optimal' | 'within the time' | 'heuristic';
  readonly proved: { readonly segments: boolean; readonly torn: boolean; readonly even: boolean };
  /** What might still be better, at most; 0 where proved. */
  readonly gap: { readonly segments: number; readonly torn: number; readonly evenUa: number };
}

/** Why there is no split. */
export type NoSplit =
  | { readonly impossible: 'item too large'; readonly id: string }
  | { readonly impossible: 'no places' }
  /** At least so many are needed; where these are no more than allowed, none that few were found. */
  | { readonly impossible: 'too many segments'; readonly atLeast: number };

import { MOST_FAULTS, refusalFor } from '../documents/document.js';
import { Nearest, nearestText } from '../documents/nearest.js';
import { quoted } from '../errors.js';
import { type SiteSheet, sheetRefusal } from './sheet.js';
import type { StaleName } from './site.js';

/** A name of the sheet that the archive does not have where it is looked for. */
interface Miss extends Pick<StaleName, 'place' | 'kind' | 'name'> {
  /** What it is not, such as `no device of the archive`. */
  readonly said: string;
  /** Names that could be meant. */
  readonly names: () => Iterable<string>;
  readonly now?: string | null;
  readonly segment?: string | null;
}

/** So many ids or places of an ambiguous name are told of. */
const MOST_TOLD = 5;

/**
 * Gathers what a sheet and an archive do not agree on. Of a sheet that was written for another state of the archive a
 * name that is not there is stale; of any other it is a fault.
 */
export class Misses {
  readonly #faults: string[] = [];
  readonly #stale: StaleName[] = [];
  readonly #isForThis: boolean;

  constructor(
    readonly sheet: SiteSheet,
    archiveSha256: string,
    readonly nearest = new Nearest(),
  ) {
    this.#isForThis = sheet.archive === undefined || sheet.archive === archiveSha256;
  }

  get stale(): readonly StaleName[] {
    return this.#stale;
  }

  gone({ place, kind, name, said, names, now = null, segment = null }: Miss): void {
    const isTold = !this.#isForThis || this.#faults.length < MOST_FAULTS;
    const nearest = now === null && isTold ? this.nearest.to(name, names) : [];
    if (this.#isForThis) this.wrong(place, `${quoted(name)} is ${said}${nearestText(nearest.map(quoted))}`);
    else this.#stale.push({ place, kind, name, nearest, segment, now });
  }

  ambiguous(place: string, name: string, meant: readonly string[], remedy: string): void {
    const told = meant.slice(0, MOST_TOLD).map(quoted).join(', ');
    const rest = meant.length > MOST_TOLD ? ` and ${meant.length - MOST_TOLD} more` : '';
    this.wrong(place, `${quoted(name)} can be any of ${told}${rest}; ${remedy}`);
  }

  /** What is wrong whatever the state of the archive. */
  wrong(place: string, text: string): void {
    this.#faults.push(`${place}: ${text}`);
  }

  /** @throws InputError `invalid-site-sheet` if there is a fault */
  refuse(): void {
    if (this.#faults.length > 0) throw sheetRefusal(refusalFor(this.#faults), this.sheet.name);
  }
}

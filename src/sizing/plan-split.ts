import { firstSegment } from '../plant/couplers.js';
import type { Device, Installation, Segment } from '../plant/plant.js';
import type { Policy } from '../policy/policy.js';
import { sum } from '../units.js';
import { withAddressesOn, withOwnAddresses } from './addresses.js';
import type { Demand, NewCouplers } from './demand.js';
import { type Divided, divided } from './divided.js';
import { lacksCoupler, type Parted, partedLoads } from './fixed-load.js';
import type { FreeLines } from './free-lines.js';
import { type Above, aboveNewLines } from './line-above.js';
import { newCoupler } from './new-coupler.js';
import { type Selected, select } from './select.js';
import type { SizingWords } from './sized.js';
import type { NoSplit } from './split/problem.js';
import type { LineAbove, NewCoupler, Piece, SplitPlan } from './split-plan.js';
import { plannedOn, type Rooms, roomsOf } from './split-rooms.js';

/** What a plan is made for. */
export interface ToSplit {
  readonly segment: Segment;
  /** Of the segment alone, with {@link added}. */
  readonly demand: Demand;
  /** Couplers that other plans put on it. */
  readonly added: NewCouplers;
  readonly installation: Installation;
  readonly policy: Policy;
  readonly free: FreeLines;
  /** For the search, s. */
  readonly seconds: number;
  /** Whether another plan has the coupler already that its line lacks. */
  readonly isCouplerPlanned: boolean;
  readonly words: SizingWords;
}

export interface NoPlan {
  readonly because: string;
}

/** How a segment is split into itself and as few new lines as can be, or why that cannot be told. */
export async function planSplit(of: ToSplit): Promise<SplitPlan | NoPlan> {
  const { areaAddress } = of.segment.line;
  const above = aboveNewLines(areaAddress, of.installation, of.words);
  if ('because' in above) return above;
  return new Planner(of, above).plan();
}

class Planner {
  readonly #parted: Parted;
  readonly #coupler: NewCoupler;
  readonly #lacksCoupler: boolean;
  /** The segment that a coupler of the line stands on. */
  readonly #first: Segment;
  readonly #free: readonly number[];
  /** New lines hang on the segment that is split. */
  readonly #isMain: boolean;

  constructor(
    readonly of: ToSplit,
    readonly above: Above,
  ) {
    const { segment, installation, policy, free } = of;
    this.#parted = partedLoads(segment);
    this.#coupler = newCoupler(segment, installation, above.kind === 'IP', policy);
    this.#lacksCoupler = lacksCoupler(segment.line) && !of.isCouplerPlanned;
    this.#first = firstSegment(segment.line) ?? segment;
    this.#free = free.of(segment.line.areaAddress);
    this.#isMain = above.kind === 'present' && above.segment === segment;
  }

  /** On a main line room is left for one coupler, for two, and so on, until there are no more new lines than that. */
  async plan(): Promise<SplitPlan | NoPlan> {
    const end = performance.now() + this.of.seconds * 1000;
    for (let lines = 1; lines <= this.#free.length; lines++) {
      const rooms = this.#roomsBeside(this.#isMain ? lines : 0);
      if ('because' in rooms) return rooms;
      const found = await divided(this.#parted.movable, rooms, this.#free.length, secondsUntil(end));
      if ('impossible' in found) return { because: this.#impossible(found) };
      if (!this.#isMain || found.goes.length <= lines) return this.#planOf(found, rooms);
    }
    return { because: this.of.words.sizing.unsplit.couplersTooMuch(this.of.segment.line.address) };
  }

  #roomsBeside(couplersOfLines: number) {
    const { segment, demand, added, policy, words } = this.of;
    const { lowerUa, upperUa } = this.#coupler;
    const own = this.#getsCoupler ? 1 : 0;
    const couplersHere = {
      count: added.count + own + couplersOfLines,
      ua: added.ua + own * lowerUa + couplersOfLines * upperUa,
    };
    const parted = this.#parted;
    const of = { segment, demand, parted, coupler: this.#coupler, couplersHere, added, free: this.#free };
    return roomsOf(of, policy, words);
  }

  #impossible(no: NoSplit): string {
    const { segment, words } = this.of;
    const { deviceTooMuch, noPlaces, fewAddresses } = words.sizing.unsplit;
    if (no.impossible === 'item too large') return deviceTooMuch;
    if (no.impossible === 'no places') return noPlaces;
    return fewAddresses({ needed: no.atLeast - 1, free: this.#free.length, area: segment.line.areaAddress });
  }

  #planOf({ stays, goes, torn, method, lowerBound, proved, gap }: Divided, rooms: Rooms): SplitPlan | NoPlan {
    const { segment, free, words } = this.of;
    const { areaAddress } = segment.line;
    const lines = this.#free.slice(0, goes.length);
    const drafts = [
      this.#ownPiece(stays, rooms),
      ...goes.map((devices, at) => this.#newPiece(devices, lines[at] ?? 0)),
    ];
    const pieces = drafts.flatMap(pieceOf);
    const failed = drafts.find(({ selected }) => selected.choice === null);
    if (failed !== undefined) return { because: failed.selected.because ?? words.sizing.unsplit.noSupplyForPiece };
    free.take(areaAddress, lines);
    const isBeside = this.#lacksCoupler && !this.#getsCoupler;
    const beside = isBeside ? { segment: this.#first, coupler: this.#coupler } : null;
    return { segment, pieces, above: this.#aboveOf(goes.length), beside, torn, method, lowerBound, proved, gap };
  }

  #ownPiece(stays: readonly Device[], { fixedUa, fixedPlaces }: Rooms): Draft {
    const { segment, demand, policy, words } = this.of;
    const loadUa = fixedUa + this.#drawnBy(stays);
    return {
      line: segment.line.address,
      segment,
      isNew: false,
      devices: withOwnAddresses(stays),
      coupler: this.#getsCoupler ? this.#coupler : null,
      loadUa,
      plannedUa: demand.plannedUa,
      places: fixedPlaces + stays.length,
      selected: select({ ...demand, segments: [], loadUa }, null, policy, words),
    };
  }

  #newPiece(devices: readonly Device[], lineAddress: number): Draft {
    const { segment, demand, policy, words } = this.of;
    const line = `${segment.line.areaAddress}.${lineAddress}`;
    const loadUa = this.#coupler.lowerUa + this.#drawnBy(devices);
    const plannedUa = plannedOn(segment, lineAddress, policy);
    const nothingThere = { segments: [], fixed: [], keepable: [], unrated: [] };
    return {
      line,
      segment: null,
      isNew: true,
      devices: withAddressesOn(line, devices),
      coupler: this.#coupler,
      loadUa,
      plannedUa,
      places: 1 + devices.length,
      selected: select({ ...demand, ...nothingThere, loadUa, plannedUa }, null, policy, words),
    };
  }

  /** The line's coupler would stand here. */
  get #getsCoupler(): boolean {
    return this.#lacksCoupler && this.#first === this.of.segment;
  }

  #drawnBy(devices: readonly Device[]): number {
    const here = new Set(devices);
    return sum(this.#parted.movable.filter(({ device }) => here.has(device)).map(({ current }) => current.ua));
  }

  #aboveOf(newLines: number): LineAbove {
    const { kind, line } = this.above;
    const couplers = newLines + (this.#lacksCoupler ? 1 : 0);
    const segment = this.above.kind === 'present' ? this.above.segment : null;
    return { line, kind, segment, couplers, couplersUa: couplers * this.#coupler.upperUa };
  }
}

function secondsUntil(end: number): number {
  return Math.max(0, (end - performance.now()) / 1000);
}

/** A piece, and what was found for its supplies. */
interface Draft extends Omit<Piece, 'action' | 'choice' | 'conditions'> {
  readonly selected: Selected;
}

function pieceOf({ selected: { action, choice, conditions }, ...piece }: Draft): Piece[] {
  return choice === null ? [] : [{ ...piece, action, choice, conditions }];
}

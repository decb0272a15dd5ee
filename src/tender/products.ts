import type { HardwareRecord, ProductRecord } from '../interchange/records.js';
import { toMa } from '../units.js';

/** What a plan says of something that is to be bought. */
export interface PlannedProduct {
  readonly what: string;
  readonly orderNumber?: string | undefined;
  /** What it draws, or what a supply is rated, µA. */
  readonly currentUa?: number | undefined;
  readonly is?: Partial<HardwareRecord>;
  /** Where it stands first. */
  readonly line: number;
}

/** What errors and reports call the plan where they would name a part of an archive. */
export const PLAN_PART = 'plan';

const DEVICE: Omit<HardwareRecord, 'id' | 'name' | 'busCurrent'> = {
  hasIndividualAddress: true,
  hasApplicationProgram: true,
  isAccessory: false,
  isPowerSupply: false,
  isChoke: false,
  isCoupler: false,
  isCable: false,
  isIpEnabled: false,
};

export const LINE_COUPLER = { what: 'line coupler', is: { isCoupler: true } } as const;
export const IP_COUPLER = { what: 'IP coupler', is: { isCoupler: true, isIpEnabled: true } } as const;
export const REPEATER = { what: 'line repeater', is: { isCoupler: true } } as const;

/** A supply takes part on the bus only where an export says so. */
const SUPPLY = { isPowerSupply: true, hasIndividualAddress: false, hasApplicationProgram: false } as const;

export function plannedSupply(currentUa: number, line: number): PlannedProduct {
  return { what: `supply ${toMa(currentUa)} mA`, currentUa, is: SUPPLY, line };
}

/** The products of a plan, or of changes to an archive: of the same name, order number and current there is one. */
export class PlannedProducts {
  readonly records = new Map<string, ProductRecord>();

  /** @param part what errors call the document */
  constructor(readonly part = PLAN_PART) {}

  /** @returns the product's id */
  add({ what, orderNumber, currentUa, is = {}, line }: PlannedProduct): string {
    const kind = is.isPowerSupply ? 'supply' : is.isCoupler ? 'coupler' : 'device';
    const busCurrent = currentUa === undefined ? undefined : String(toMa(currentUa));
    // The quotation marks keep apart what two names and a current could say in one another's words.
    const names = [what, orderNumber].flatMap((text) => (text === undefined ? [] : [JSON.stringify(text)]));
    const id = [kind, ...names, ...(busCurrent === undefined ? [] : [`${busCurrent} mA`])].join(' ');
    if (!this.records.has(id)) {
      const hardware = { ...DEVICE, ...is, id, name: what, busCurrent };
      this.records.set(id, {
        id,
        name: what,
        orderNumber,
        manufacturer: '',
        hardware,
        place: { part: this.part, line },
      });
    }
    return id;
  }
}

import type { InputPlace } from '../errors.js';

/**
 * The interchange vocabulary as checked, plain records: what the documents say, before any judgement. A value that a
 * document does not give is undefined, never 0 or an empty text.
 */
export interface ProjectRecord {
  readonly id: string;
  readonly name: string | undefined;
  /** Null where there is no export. */
  readonly schema: number | null;
  readonly installations: readonly InstallationRecord[];
  /** Products of the archive by id. */
  readonly products: ReadonlyMap<string, ProductRecord>;
  /** Names of media and makers by id, from the master data. */
  readonly names: ReadonlyMap<string, string>;
}

export interface InstallationRecord {
  readonly part: string;
  /** Position among the project's installations, by part name and order in it: the standard's installation number. */
  readonly number: number;
  readonly name: string | undefined;
  readonly areas: readonly AreaRecord[];
  readonly unassigned: readonly DeviceRecord[];
  /** Where a device is in the building, by device id. */
  readonly places: ReadonlyMap<string, PlaceRecord>;
}

export interface AreaRecord {
  readonly id: string;
  readonly address: number;
  readonly name: string | undefined;
  readonly lines: readonly LineRecord[];
}

export interface LineRecord {
  readonly id: string;
  readonly address: number;
  readonly name: string | undefined;
  readonly medium: string | undefined;
  readonly segments: readonly SegmentRecord[];
  /** Devices that stand on the line itself: all of them in the old form. */
  readonly devices: readonly DeviceRecord[];
  /** Line of the topology document. */
  readonly sourceLine: number;
}

export interface SegmentRecord {
  readonly id: string;
  readonly number: number;
  readonly name: string | undefined;
  readonly medium: string | undefined;
  readonly devices: readonly DeviceRecord[];
  /** Line of the topology document. */
  readonly sourceLine: number;
}

export interface DeviceRecord {
  readonly id: string;
  /** Device part of the individual address, 0–255. */
  readonly address: number | undefined;
  readonly name: string | undefined;
  readonly productRef: string | undefined;
  /** Whether its address or program was loaded into it, which it then was connected for; undefined if not said. */
  readonly isLoaded: boolean | undefined;
  /** Device parts of further addresses that the device takes on its line. */
  readonly additionalAddresses: readonly number[];
  /** Line of the topology document. */
  readonly sourceLine: number;
}

export interface PlaceRecord {
  readonly name: string;
  readonly type: string | undefined;
  readonly parent: PlaceRecord | undefined;
}

export interface ProductRecord {
  readonly id: string;
  readonly name: string | undefined;
  readonly orderNumber: string | undefined;
  readonly manufacturer: string;
  readonly hardware: HardwareRecord;
  /** Where the archive describes it. */
  readonly place: InputPlace;
}

export interface HardwareRecord {
  readonly id: string;
  readonly name: string | undefined;
  /** `BusCurrent` as written (mA); undefined if missing or empty. */
  readonly busCurrent: string | undefined;
  readonly hasIndividualAddress: boolean | undefined;
  readonly hasApplicationProgram: boolean;
  readonly isAccessory: boolean;
  readonly isPowerSupply: boolean;
  readonly isChoke: boolean;
  readonly isCoupler: boolean;
  readonly isCable: boolean;
  readonly isIpEnabled: boolean;
}

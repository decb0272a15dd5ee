import type { Device, Segment } from '../../plant/plant.js';
import type { Nearness } from './nearness.js';

/** The least set of devices to take off a segment that its supplies do not carry, and the segment that has room for it. */
export interface Moves {
  /** Of the device that is farthest from the cable of {@link to}. */
  readonly nearness: Nearness;
  /** Places that the devices share with {@link to}, each once; none where the move is only electrically possible. */
  readonly sharedPlaces: readonly string[];
  readonly to: Segment;
  /** In the order of the document. */
  readonly devices: readonly Device[];
  readonly movedUa: number;
  /** Of the devices, those of which the current is assumed, and the part of {@link movedUa} that is theirs. */
  readonly assumedDevices: number;
  readonly assumedUa: number;
  /**
   * What is left within the target after the move, with what is planned, of the segment and of {@link to}, µA; of a
   * critical one within what is left when the largest supply fails, where that is less.
   */
  readonly leftUa: number;
  readonly marginThereUa: number;
  /** No fewer devices do in this nearness; false where that was too much to work out, so that fewer might. */
  readonly isLeast: boolean;
  /** The site sheet tells enough for voltages of {@link to} as it is; for after the move they are not known. */
  readonly isVoltageOpen: boolean;
  /** What the move depends on, in words. */
  readonly conditions: readonly string[];
}

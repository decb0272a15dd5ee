/**
 * Cables of the bus by name. Resistances are of the loop, both wires, per kilometre at 20 °C, as the greatest that the
 * standard allows.
 */
export interface KnownCable {
  readonly name: string;
  /** Ω/km */
  readonly loopOhmPerKm: number;
  readonly source: string;
}

/** IEC 60228, class 1 (solid), plain copper: greatest resistance of one conductor at 20 °C, Ω/km by mm². */
const CLASS_1: readonly (readonly [area: number, ohmPerKm: number])[] = [
  [0.5, 36.0],
  [0.75, 24.5],
  [1, 18.1],
  [1.5, 12.1],
  [2.5, 7.41],
];

export const CABLES: readonly KnownCable[] = [
  {
    name: '0.8 mm pair',
    loopOhmPerKm: 73.2,
    source: 'VDE 0816, greatest loop resistance of a pair of 0.8 mm (seen for outdoor cable; medium sure)',
  },
  { name: '0.6 mm pair', loopOhmPerKm: 130, source: 'VDE 0815, greatest loop resistance of a pair of 0.6 mm' },
  ...CLASS_1.map(([area, ohmPerKm]) => ({
    name: `${area} mm² pair`,
    loopOhmPerKm: 2 * ohmPerKm,
    source: `derived: twice ${ohmPerKm} Ω/km of a conductor of ${area} mm², IEC 60228 class 1`,
  })),
];

/** The temperature of {@link CABLES}, °C. */
export const BASE_TEMPERATURE_C = 20;

/** Of the resistance of copper, from 20 °C on, per kelvin: IEC 60028. */
const PER_KELVIN = 0.00393;

/**
 * Resistance of a loop at a temperature, Ω/km: r·(1 + 0.00393·(t − 20)), IEC 60028; a second pair in parallel halves it.
 * @param loopOhmPerKm of one pair at 20 °C
 */
export function ohmPerKmAt(loopOhmPerKm: number, temperatureC: number, pairs: 1 | 2): number {
  return (loopOhmPerKm * (1 + PER_KELVIN * (temperatureC - BASE_TEMPERATURE_C))) / pairs;
}

/** The cable of the table, by its name; `mm2` is mm². */
export function cableNamed(name: string): KnownCable | undefined {
  return CABLES.find((cable) => cable.name === name.replace('mm2', 'mm²'));
}

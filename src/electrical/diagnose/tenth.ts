/** A current as it is told, to a tenth of a milliampere. */
export function toTenth(ma: number): number {
  return Math.round(ma * 10) / 10;
}

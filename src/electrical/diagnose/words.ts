/** `540 mA`, to a tenth. */
export function milliamps(ma: number): string {
  return `${Math.round(ma * 10) / 10} mA`;
}

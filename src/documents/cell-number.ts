const POINT = /^[+-]?\d+(\.\d+)?$/;
const POINT_OR_COMMA = /^[+-]?\d+([.,]\d+)?$/;

/** Three digits behind a separator may be a fraction or thousands: `1.280`. After a zero they are no thousands. */
const THOUSANDS = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;

/** What a column of numbers holds. */
interface Numbers {
  readonly unit: string;
  /** A usual one, with a decimal point. */
  readonly example: string;
  /** The greatest that is allowed, where what is beyond it can be no thousands. */
  readonly most?: number;
}

/**
 * A number of a cell that a person filled in.
 * @param hasDecimalComma whether a comma may stand for the point, as it separates no cells
 * @returns what is allowed instead, where it is none or can be read in two ways
 */
export function cellNumber(
  text: string,
  hasDecimalComma: boolean,
  { unit, example, most = Number.POSITIVE_INFINITY }: Numbers,
): number | { readonly allowed: string } {
  if (!hasDecimalComma) {
    return POINT.test(text) ? Number(text) : { allowed: `a number in ${unit} such as ${example}, without unit` };
  }
  if (!POINT_OR_COMMA.test(text)) {
    return { allowed: `a number in ${unit} such as ${example.replace('.', ',')} or ${example}, without unit` };
  }
  if (THOUSANDS.test(text) && Number(text.replace(/[.,]/, '')) <= most) {
    return { allowed: 'a number that cannot be taken for thousands, such as 1280 or 1,28' };
  }
  return Number(text.replace(',', '.'));
}

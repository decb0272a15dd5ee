/**
 * A spreadsheet takes a cell that begins with certain characters for a formula. OWASP, "CSV Injection": such a cell gets
 * an apostrophe in front. A text that already begins so gets one more, so that the way back is never in doubt.
 */
const LOOKS_LIKE_FORMULA = /^'*[=+\-@\t\r\n＝＋－＠]/u;

const GUARDED = /^'(?='*[=+\-@\t\r\n＝＋－＠])/u;

/** A text that no spreadsheet takes for a formula. */
export function guarded(text: string): string {
  return LOOKS_LIKE_FORMULA.test(text) ? `'${text}` : text;
}

/** The text that was guarded; any other as it is. */
export function unguarded(text: string): string {
  return text.replace(GUARDED, '');
}

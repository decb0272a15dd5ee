/** Names of places on the page, made of what stays the same from report to report, so that a link keeps. */

const LONGEST = 60;

/**
 * A name for each item, unique on the page: letters, digits and hyphens of its key, with a number behind where two keys
 * come to the same.
 * @param prefix what the names begin with, which no other list has
 */
export function anchorsOf<T>(prefix: string, items: readonly T[], keyOf: (item: T) => string): ReadonlyMap<T, string> {
  const uses = new Map<string, number>();
  const anchors = new Map<T, string>();
  for (const item of items) {
    const name = `${prefix}-${plain(keyOf(item))}`;
    const use = (uses.get(name) ?? 0) + 1;
    uses.set(name, use);
    anchors.set(item, use === 1 ? name : `${name}--${use}`); // no name made of a key has two hyphens together
  }
  return anchors;
}

function plain(key: string): string {
  return key.replace(/[^A-Za-z0-9]+/g, '-').slice(0, LONGEST);
}

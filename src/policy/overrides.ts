import type { z } from 'zod';
import { line, number, oneOf, section, wholeNumber } from '../documents/shape.js';

/** What a product is to the bus, where the archive says it wrongly or not at all. */
export const PRODUCT_KINDS = ['consumer', 'supply', 'coupler', 'passive'] as const;

export type ProductKind = (typeof PRODUCT_KINDS)[number];

/** Patterns are held against every product; more wildcards than this say nothing more. */
const MOST_STARS = 4;

/** So many entries with a wildcard a policy may have. */
export const MOST_PATTERNS = 500;

const VALUES = ['currentMa', 'ratingMa', 'fanInWeight', 'kind'] as const;

/** What a data sheet says of a product, in place of what the archive says. */
export const productOverrideSchema = section({
  orderNumber: line(200, 'the order number; * stands for any characters').optional(),
  id: line(400, 'the product’s id in the archive; * stands for any characters').optional(),
  currentMa: number({ least: 0, most: 10_000 }, 'what a device draws from the bus, mA').optional(),
  ratingMa: number({ least: 0.001, most: 10_000 }, 'what a supply delivers, mA').optional(),
  fanInWeight: wholeNumber({ least: 0, most: 256 }, 'its weight in the standard’s fan-in count').optional(),
  kind: oneOf(PRODUCT_KINDS, 'what it is to the bus').optional(),
  note: line(500, 'where the values are from, such as the data sheet and its date'),
})
  .refine(({ orderNumber, id }) => (orderNumber === undefined) !== (id === undefined), {
    error: 'either an orderNumber or an id',
  })
  .refine(
    ({ kind, ...values }) =>
      kind !== 'passive' || VALUES.every((name) => name === 'kind' || values[name] === undefined),
    {
      error: 'no value beside kind passive, as what is passive neither draws nor delivers',
    },
  )
  .refine(({ kind, ratingMa }) => ratingMa === undefined || kind === undefined || kind === 'supply', {
    error: 'a ratingMa for supplies only',
  })
  .refine((entry) => patternOf(entry).split('*').length - 1 <= MOST_STARS, {
    error: `at most ${MOST_STARS} times * in one orderNumber or id`,
  })
  .refine((entry) => VALUES.some((name) => entry[name] !== undefined), {
    error: 'at least one of currentMa, ratingMa, fanInWeight and kind',
  });

export type ProductOverride = z.infer<typeof productOverrideSchema>;

/** Whether an entry stands for more than one product. */
export function isPattern(entry: Named): boolean {
  return patternOf(entry).includes('*');
}

/** How an entry names its products, by one of the two. */
interface Named {
  readonly orderNumber?: string | undefined;
  readonly id?: string | undefined;
}

function patternOf({ orderNumber, id }: Named): string {
  return id ?? orderNumber ?? '';
}

/** What a product is found by. */
export interface ProductIdentity {
  readonly id: string;
  readonly orderNumber: string | null;
}

/** Finds the entry that counts for a product: the first that matches. Only entries with a wildcard are tried one by one. */
export class OverrideIndex {
  readonly #exact = new Map<string, number>();
  readonly #patterns: { readonly index: number; readonly matches: (product: ProductIdentity) => boolean }[] = [];

  constructor(readonly entries: readonly ProductOverride[]) {
    entries.forEach((entry, index) => {
      const isById = entry.id !== undefined;
      const pattern = patternOf(entry);
      const key = isById ? idKey(pattern) : orderKey(pattern);
      if (isPattern(entry)) {
        const matches = wildcard(pattern);
        const textOf = ({ id, orderNumber }: ProductIdentity) => (isById ? id : orderNumber);
        this.#patterns.push({
          index,
          matches: (product) => textOf(product) !== null && matches(textOf(product) ?? ''),
        });
      } else if (!this.#exact.has(key)) this.#exact.set(key, index);
    });
  }

  find({ id, orderNumber }: ProductIdentity): ProductOverride | null {
    const exact = [
      this.#exact.get(idKey(id)),
      orderNumber === null ? undefined : this.#exact.get(orderKey(orderNumber)),
    ];
    const pattern = this.#patterns.find(({ matches }) => matches({ id, orderNumber }))?.index;
    const first = Math.min(...[...exact, pattern].map((index) => index ?? Number.POSITIVE_INFINITY));
    return this.entries[first] ?? null;
  }
}

function idKey(id: string): string {
  return `id ${id}`;
}

function orderKey(orderNumber: string): string {
  return `order ${orderNumber}`;
}

/** Matches a text against a pattern in which `*` stands for any characters, in time that grows with the text only. */
export function wildcard(pattern: string): (text: string) => boolean {
  const [head = '', ...rest] = pattern.split('*');
  const tail = rest.pop();
  if (tail === undefined) return (text) => text === pattern;
  return (text) => {
    if (text.length < head.length + tail.length || !text.startsWith(head) || !text.endsWith(tail)) return false;
    let at = head.length;
    for (const piece of rest) {
      const found = text.indexOf(piece, at);
      if (found < 0) return false;
      at = found + piece.length;
    }
    return at <= text.length - tail.length;
  };
}

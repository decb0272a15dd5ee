import fc from 'fast-check';
import { below, type Element, type Place, parsed, written } from './tree.js';

/** A change to the bytes of a file or a document; places are shares of the length, so that one change fits any. */
interface ByteChange {
  readonly how: 'set' | 'flip' | 'drop' | 'insert' | 'copy' | 'cut';
  readonly at: number;
  readonly from: number;
  readonly bytes: Uint8Array;
}

const STEPS = 2 ** 24;
const share = fc.noBias(fc.nat(STEPS - 1)).map((one) => one / STEPS);

/** Markup, and letters and digits that leave markup whole. */
const SPLINTERS = [
  ...['<', '>', '&', '"', '<!--', ']]>', '&#0;', '\u0000', '\ufeff', '</KNX>', '<!DOCTYPE KNX>', '<?xml?>'],
  ...['0', '1', '9', '25', '-', '.', 'e', ' ', '\n', 'a', 'true', 'é', '\u{1F600}', '/>', '&#65;', '<?p?>', '<!-- -->'],
];

export const byteChanges: fc.Arbitrary<readonly ByteChange[]> = fc.array(
  fc.record({
    how: fc.constantFrom('set', 'set', 'flip', 'drop', 'insert', 'insert', 'copy', 'cut'),
    // Half of them near the end, where the directory of an archive is.
    at: fc.oneof(
      share,
      share.map((one) => 1 - (1 - one) ** 3),
    ),
    from: share,
    bytes: fc.oneof(
      fc.uint8Array({ minLength: 1, maxLength: 6 }),
      fc.constantFrom(...SPLINTERS.map((text) => Buffer.from(text))),
    ),
  }),
  { minLength: 1, maxLength: 2 },
);

export function withBytesChanged(file: Buffer, changes: readonly ByteChange[]): Buffer {
  return changes.reduce(changed, file);
}

function changed(file: Buffer, { how, at, from, bytes }: ByteChange): Buffer {
  const place = Math.floor(at * file.length);
  const [before, after] = [file.subarray(0, place), file.subarray(place)];
  switch (how) {
    case 'set':
      return Buffer.concat([before, bytes, after.subarray(bytes.length)]);
    case 'flip':
      return Buffer.concat([before, Buffer.from([(after[0] ?? 0) ^ (1 << (bytes.length % 8))]), after.subarray(1)]);
    case 'drop':
      return Buffer.concat([before, after.subarray(bytes.length)]);
    case 'insert':
      return Buffer.concat([before, bytes, after]);
    case 'copy': {
      const start = Math.floor(from * file.length);
      return Buffer.concat([before, file.subarray(start, start + 40 * bytes.length), after]);
    }
    case 'cut':
      return Buffer.from(before);
  }
}

/** Texts that have broken readers of numbers, names and lists before, as they stand in a document. */
const HOSTILE = [
  ...[
    '',
    ' ',
    '0',
    '-0',
    '-1',
    '+7',
    '1e400',
    '1e-400',
    '1e1',
    'NaN',
    'Infinity',
    '1,5',
    '0x10',
    '١٢',
    '007',
    '255',
    '256',
  ],
  ...[
    '9'.repeat(40),
    `0.${'0'.repeat(30)}1`,
    '24.9999999',
    '1e99999999999',
    '15',
    '16',
    'true',
    'false',
    'MT-1',
    'MT-9',
  ],
  ...[
    '__proto__',
    'constructor',
    'toString',
    'hasOwnProperty',
    '&#xD800;',
    '&#xFFFF;',
    '&#0;',
    '&#x1F600;',
    '&amp;',
    '&lol;',
  ],
  ...['%s%n', '../../etc', '&lt;b>', '&#10;', '&#x202E;', 'x'.repeat(3000), 'e\u0301'.repeat(100)],
];

/** A change to the structure of a document; elements are counted in document order, round and round. */
interface TreeChange {
  readonly how: Rearrangement;
  readonly at: number;
  readonly other: number;
  readonly attribute: number;
  readonly value: string;
  readonly name: string;
}

const index = fc.noBias(fc.nat(9999));

const treeChange = {
  at: index,
  other: index,
  attribute: index,
  value: fc.constantFrom(...HOSTILE),
  name: fc.constantFrom('Foreign', '__proto__', 'constructor'),
};

/** Changes after which every element stands where one of its kind may. */
export const treeChanges: fc.Arbitrary<readonly TreeChange[]> = fc.array(
  fc.record({
    ...treeChange,
    how: fc.constantFrom('drop', 'double', 'move', 'rename', 'set', 'set', 'set', 'unset', 'take'),
  }),
  { minLength: 1, maxLength: 3 },
);

/** Changes after which elements stand where they have no business to be. */
export const misplacements: fc.Arbitrary<readonly TreeChange[]> = fc.array(
  fc.record({
    ...treeChange,
    how: fc.constantFrom('misplace', 'rename'),
    name: fc.constantFrom('Area', 'Line', 'Segment', 'Hardware', 'Product', 'Address', 'Space', 'Foreign'),
  }),
  { minLength: 1, maxLength: 3 },
);

export function withStructureChanged(document: string, changes: readonly TreeChange[]): string {
  const root = parsed(document);
  for (const change of changes) rearrange(root, change);
  return written(root);
}

function rearrange(root: Element, change: TreeChange): void {
  const all = below(root);
  const chosen = all[change.at % all.length];
  if (chosen === undefined) return;
  const alike = all.filter(({ path }) => path === chosen.path);
  const amongAlike = alike[change.other % alike.length] ?? chosen;
  const anywhere = all[change.other % all.length] ?? chosen;
  REARRANGEMENTS[change.how]({ ...chosen, amongAlike, anywhere, change });
}

type Chosen = Place & { readonly amongAlike: Place; readonly anywhere: Place; readonly change: TreeChange };

const REARRANGEMENTS = {
  drop: ({ parent, element }: Chosen) => {
    parent.children.splice(parent.children.indexOf(element), 1);
  },
  double: ({ parent, element }: Chosen) => {
    parent.children.splice(parent.children.indexOf(element), 0, withOtherIds(element));
  },
  move: ({ parent, element, amongAlike }: Chosen) => moveTo(parent, element, amongAlike),
  misplace: ({ parent, element, anywhere }: Chosen) => moveTo(parent, element, anywhere),
  rename: ({ element, change }: Chosen) => {
    if (RENAMABLE.has(element.name)) element.name = change.name;
  },
  set: ({ element, change }: Chosen) => {
    const pair = chosenAttribute(element, change);
    if (pair) pair[1] = change.value;
  },
  unset: ({ element, change }: Chosen) => {
    const pair = chosenAttribute(element, change);
    if (pair) element.attributes.splice(element.attributes.indexOf(pair), 1);
  },
  take: ({ element, anywhere, change }: Chosen) => {
    const pair = chosenAttribute(element, change);
    if (pair) pair[1] = anywhere.element.attributes.find(([key]) => key === pair[0])?.[1] ?? pair[1];
  },
};

type Rearrangement = keyof typeof REARRANGEMENTS;

/** What holds devices or products, below what makes the document one of its kind. */
const RENAMABLE = new Set(['Area', 'Line', 'Segment', 'DeviceInstance', 'UnassignedDevices', 'Products', 'Product']);

/** Nothing can be moved into itself: what is moved is gone from where it stood. */
function moveTo(parent: Element, element: Element, target: Place): void {
  if (target.element === element || below(element).some((inside) => inside.element === target.element)) return;
  parent.children.splice(parent.children.indexOf(element), 1);
  target.parent.children.splice(target.parent.children.indexOf(target.element), 0, element);
}

function withOtherIds({ name, attributes, children }: Element): Element {
  const others = attributes.map(([key, raw]): [string, string] => [key, key === 'Id' ? `${raw}-double` : raw]);
  return { name, attributes: others, children: children.map(withOtherIds) };
}

function chosenAttribute({ attributes }: Element, { attribute }: TreeChange): [string, string] | undefined {
  return attributes[attribute % attributes.length];
}

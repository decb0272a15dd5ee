/**
 * Passes over the bulk of a document at the speed of memory: AssemblyScript, compiled to WebAssembly with vectors of 16
 * bytes. It knows only the plainest markup and accepts nothing that the scanner (`../scanner.ts`) would not; at whatever
 * it does not know it stops, and the scanner goes on from there. So it holds no error of its own, and a fault is
 * answered alike wherever it stands.
 *
 * Plain is: an element with a name that was taught, attributes in double quotes with blanks between them and none
 * around `=`, text and values without references, the end tags of these elements.
 */

/** A name of up to 31 bytes in two vectors, filled up with zeros; equal names have equal keys. */
const KEY_BYTES: usize = 32;
/** Key, then the length of the name and the slot that followed last. */
const SLOT_BYTES: usize = 48;
const SLOT_LENGTH: usize = 32;
const SLOT_NEXT: usize = 36;

// Where things stand in the memory that is shared with `../bulk.ts`.
const LINES: usize = 0;
const OPENED: usize = 4;
const MASK: usize = 16;
const FOUND: usize = 64;
const SLOTS: usize = 128;
const MOST_SLOTS: u32 = 64;
const ATTRIBUTES: usize = 4096;
const MOST_ATTRIBUTES: u32 = 32;
const STACK: usize = 8192;

const SPACE: u8 = 0x20;
const QUOTE: u8 = 0x22;
const SLASH: u8 = 0x2f;
const LESS: u8 = 0x3c;
const GREATER: u8 = 0x3e;
const UNDERSCORE: u8 = 0x5f;
const EQUALS_QUOTE: u16 = 0x223d;
/** `xmlns` as the first eight bytes of a key. */
const XMLNS: u64 = 0x736e6c6d78;

let slots: u32 = 0;
let last: u32 = 0;

// n bytes of ones from MASK + 16 - n on: what cuts a vector to its first n bytes.
v128.store(MASK, i8x16.splat(-1));

/** Forgets the names that were taught. */
export function forget(): void {
  slots = 0;
  last = 0;
}

/** Takes the name whose key stands at FOUND as that of an element to pass over. @returns false if there is no room */
export function teach(length: u32): bool {
  if (slots === MOST_SLOTS) return false;
  const slot = slotAt(slots);
  v128.store(slot, v128.load(FOUND));
  v128.store(slot, v128.load(FOUND, 16), 16);
  store<u32>(slot, length, SLOT_LENGTH);
  store<u32>(slot, slots, SLOT_NEXT);
  slots++;
  return true;
}

/**
 * Passes over plain markup inside an element. Up to `end` the memory holds valid UTF-8, at `end` a 0. At LINES it leaves the line
 * ends passed, at OPENED how many elements were opened and not closed, at STACK their slots.
 * @param room how many elements may be open beside those that are
 * @returns where it stopped: at the start of what is not plain, or not there as a whole
 */
export function pass(from: usize, room: u32, mostAttributes: u32, longestValue: u32, longestTag: u32): usize {
  const attributes = min(mostAttributes, MOST_ATTRIBUTES);
  let depth: u32 = 0;
  let lines: u32 = 0;
  let at = from;
  while (true) {
    // Text, up to the next byte that is not plain.
    while (true) {
      const bytes = v128.load(at);
      const stop = i8x16.bitmask(notPlainInText(bytes));
      const lineEnds = i8x16.bitmask(i8x16.eq(bytes, i8x16.splat(0x0a)));
      if (stop !== 0) {
        lines += popcnt(lineEnds & ((1 << ctz(stop)) - 1));
        at += ctz(stop);
        break;
      }
      lines += popcnt(lineEnds);
      at += 16;
    }
    if (load<u8>(at) !== LESS) break;

    if (load<u8>(at, 1) === SLASH) {
      if (depth === 0) break;
      const end = endTag(at + 2, slotAt(load<u8>(STACK + depth - 1)));
      if (end === 0) break;
      depth--;
      at = end;
      continue;
    }

    const slot = element(at + 1);
    if (slot < 0 || depth >= room) break;
    const end = startTag(at + 1 + load<u32>(slotAt(slot), SLOT_LENGTH), attributes, longestValue);
    if (end === 0 || end - at > longestTag) break;
    if (load<u8>(end - 2) !== SLASH) {
      store<u8>(STACK + depth, <u8>slot);
      depth++;
    }
    at = end;
  }
  store<u32>(LINES, lines);
  store<u32>(OPENED, depth);
  return at;
}

/** Where the tag ends whose name ended at a place, 0 if it is not plain. */
function startTag(from: usize, mostAttributes: u32, longestValue: u32): usize {
  let at = from;
  let count: u32 = 0;
  while (true) {
    const gap = at;
    while (load<u8>(at) === SPACE) at++;
    const byte = load<u8>(at);
    if (byte === GREATER) return at + 1;
    if (byte === SLASH) return load<u8>(at, 1) === GREATER ? at + 2 : 0;
    if (at === gap || count === mostAttributes) return 0;

    const key = ATTRIBUTES + <usize>count * KEY_BYTES;
    const length = name(at, key);
    if (length === 0) return 0; // and at the key is a name from before
    at += length;
    if (load<u16>(at) !== EQUALS_QUOTE || load<u64>(key) === XMLNS || isRepeated(key)) return 0;
    const start = at + 2;
    at = valueEnd(start);
    if (load<u8>(at) !== QUOTE || at - start > longestValue) return 0;
    at++;
    count++;
  }
}

function valueEnd(from: usize): usize {
  let at = from;
  while (true) {
    const stop = i8x16.bitmask(notPlainInValue(v128.load(at)));
    if (stop !== 0) return at + ctz(stop);
    at += 16;
  }
}

/** Whether one of the attributes before has the same name. */
function isRepeated(key: usize): bool {
  for (let other = ATTRIBUTES; other < key; other += KEY_BYTES) if (isSame(other, key)) return true;
  return false;
}

/** The slot of the element whose name stands at a place, -1 if it was not taught. */
function element(at: usize): i32 {
  if (name(at, FOUND) === 0) return -1;
  const guess = load<u32>(slotAt(last), SLOT_NEXT);
  if (guess < slots && isSame(slotAt(guess), FOUND)) {
    last = guess;
    return guess;
  }
  for (let slot: u32 = 0; slot < slots; slot++) {
    if (!isSame(slotAt(slot), FOUND)) continue;
    store<u32>(slotAt(last), slot, SLOT_NEXT);
    last = slot;
    return slot;
  }
  return -1;
}

/** Where the end tag ends whose name begins at a place, 0 if it is not that of the element in a slot. */
function endTag(at: usize, slot: usize): usize {
  const length = name(at, FOUND);
  if (length === 0) return 0; // and at FOUND is the name from before
  return isSame(slot, FOUND) && load<u8>(at + length) === GREATER ? at + length + 1 : 0;
}

/** Writes the key of the name that stands at a place. @returns its length, 0 if it is none, or longer than a key */
function name(at: usize, key: usize): u32 {
  const first = load<u8>(at);
  const letter = first | 0x20;
  if ((letter < 0x61 || letter > 0x7a) && first !== UNDERSCORE) return 0;
  const low = v128.load(at);
  let end = i8x16.bitmask(i8x16.eq(nameBytes(low), i8x16.splat(0)));
  if (end !== 0) {
    v128.store(key, v128.and(low, v128.load(MASK + 16 - ctz(end))));
    v128.store(key, i8x16.splat(0), 16);
    return ctz(end);
  }
  const high = v128.load(at, 16);
  end = i8x16.bitmask(i8x16.eq(nameBytes(high), i8x16.splat(0)));
  if (end === 0) return 0;
  v128.store(key, low);
  v128.store(key, v128.and(high, v128.load(MASK + 16 - ctz(end))), 16);
  return 16 + ctz(end);
}

function isSame(one: usize, other: usize): bool {
  const low = v128.xor(v128.load(one), v128.load(other));
  const high = v128.xor(v128.load(one, 16), v128.load(other, 16));
  return !v128.any_true(v128.or(low, high));
}

function slotAt(slot: u32): usize {
  return SLOTS + <usize>slot * SLOT_BYTES;
}

/**
 * Classes of bytes, by their lower and upper four bits: a byte is in a class if a bit is set in both tables. Each bit
 * stands for one row or two of the code table, named beside it.
 */
function inBoth(bytes: v128, lower: v128, upper: v128): v128 {
  return v128.and(
    i8x16.swizzle(lower, v128.and(bytes, i8x16.splat(0x0f))),
    i8x16.swizzle(upper, i8x16.shr_u(bytes, 4)),
  );
}

/** 1: `A-O a-o`; 2: `P-Z p-z`; 4: `_`; 8: `0-9`; 16: `-` and `.` */
function nameBytes(bytes: v128): v128 {
  return inBoth(
    bytes,
    i8x16(0x0a, 0x0b, 0x0b, 0x0b, 0x0b, 0x0b, 0x0b, 0x0b, 0x0b, 0x0b, 0x03, 0x01, 0x01, 0x11, 0x11, 0x05),
    i8x16(0, 0, 0x10, 0x08, 0x01, 0x06, 0x01, 0x02, 0, 0, 0, 0, 0, 0, 0, 0),
  );
}

/** 1: control characters; 2: `"` and `&`; 4: `<`; 8: the first byte of U+F000 to U+FFFF */
function notPlainInValue(bytes: v128): v128 {
  return i8x16.ne(
    inBoth(
      bytes,
      i8x16(1, 1, 3, 1, 1, 1, 3, 1, 1, 1, 1, 1, 5, 1, 1, 9),
      i8x16(1, 1, 2, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 8, 0),
    ),
    i8x16.splat(0),
  );
}

/** 1: control characters but tab and line ends; 2: control characters from 0x10 on; 4: `&`; 8: `<`; 16: `]`; 32: as 8 above */
function notPlainInText(bytes: v128): v128 {
  return i8x16.ne(
    inBoth(
      bytes,
      i8x16(3, 3, 3, 3, 3, 3, 7, 3, 3, 2, 2, 3, 0x0b, 0x12, 3, 0x23),
      i8x16(1, 2, 4, 8, 0, 0x10, 0, 0, 0, 0, 0, 0, 0, 0, 0x20, 0),
    ),
    i8x16.splat(0),
  );
}

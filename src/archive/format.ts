/** Signatures, lengths and flags of a ZIP file (APPNOTE 6.3). */
export const LOCAL = 0x04034b50;
export const CENTRAL = 0x02014b50;
export const END = 0x06054b50;
export const END64 = 0x06064b50;
export const LOCATOR64 = 0x07064b50;
/** In front of the data of a directory that is encrypted. */
export const ARCHIVE_EXTRA = 0x08064b50;
/** In front of a data descriptor, and at the start of the first of several volumes. */
export const DESCRIPTOR = 0x08074b50;

export const LOCAL_BYTES = 30;
export const CENTRAL_BYTES = 46;
export const END_BYTES = 22;
export const END64_BYTES = 56;
export const LOCATOR64_BYTES = 20;

/** A field of 16 or 32 bits that is full says: see the zip64 record or extra field. */
export const FULL16 = 0xffff;
export const FULL32 = 0xffffffff;

/** Data encrypted, strongly encrypted, or headers masked. */
export const FLAG_ENCRYPTED = 0x0001 | 0x0040 | 0x2000;
export const FLAG_DESCRIPTOR = 0x0008;
export const FLAG_PATCH = 0x0020;
export const FLAG_UTF8 = 0x0800;

export const STORED = 0;
export const DEFLATED = 8;

export function hasSignature(file: Buffer, at: number, signature: number): boolean {
  return at >= 0 && at + 4 <= file.length && file.readUInt32LE(at) === signature;
}

/** A size or place. Those beyond any file lose their last digits, and nothing else: no comparison takes them for real. */
export function readUInt64(file: Buffer, at: number): number {
  return Number(file.readBigUInt64LE(at));
}

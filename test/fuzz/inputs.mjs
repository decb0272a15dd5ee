// @ts-check
import { createHash } from 'node:crypto';
import { badArchives, smallArchives } from '../soak/archives.mjs';

/** A name for an input. @param {Uint8Array} input */
export function shortDigest(input) {
  return createHash('sha256').update(input).digest('hex').slice(0, 12);
}

/** Archives that are known, good and bad, as inputs. @returns {Promise<Buffer[]>} */
export async function small() {
  return [...(await smallArchives()), ...(await badArchives())].map(({ bytes }) => bytes);
}

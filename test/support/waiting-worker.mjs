import { existsSync } from 'node:fs';

/**
 * A worker that blocks its thread, as a long audit does, until a file of the name that the "archive" spells out exists.
 * @param {{ files: { archive: Uint8Array } }} task
 */
export default function wait({ files: { archive: file } }) {
  const name = new TextDecoder().decode(file);
  const moment = new Int32Array(new SharedArrayBuffer(4));
  while (!existsSync(name)) Atomics.wait(moment, 0, 0, 5);
  return { body: Buffer.from(`${name} is there`), ruleFailures: [] };
}

/** A line of a stack that names a place in code, and nothing else. */
const FRAME = /^\s+at .*:\d+:\d+\)?$/;

/**
 * What a log may hold of a fault: its kind and the places in our code that it came through. Its message may quote the
 * archive that the code stumbled over, and nothing of an archive goes into a log.
 */
export function faultText(cause: unknown): string {
  if (!(cause instanceof Error)) return `a thrown ${typeof cause}`;
  const stack = (cause.stack ?? '').replace(cause.message, '');
  const code = 'code' in cause && typeof cause.code === 'string' ? ` ${cause.code}` : '';
  return [`${cause.name}${code}`, ...stack.split('\n').filter((line) => FRAME.test(line))].join('\n');
}

// @ts-check

/**
 * What holds for every input, however broken: a documented refusal or a whole report, the same at every try.
 *
 * @typedef {object} Service the parts of the service that are held against it, as sources or compiled
 * @property {typeof import('../../src/audit.js').audit} audit
 * @property {typeof import('../../src/errors.js').InputError} InputError
 * @property {typeof import('../../src/errors.js').INPUT_FAULTS} INPUT_FAULTS
 * @property {typeof import('../../src/report/report.js').reportSchema} reportSchema
 * @property {typeof import('../../src/report/format/index.js').FORMATS} FORMATS
 *
 * @typedef {import('../../src/report/report.js').Report} Report
 * @typedef {import('../../src/errors.js').InputError} InputError
 * @typedef {import('../../src/limits.js').Limits} Limits
 * @typedef {{ report: Report, refusal?: never } | { refusal: InputError, report?: never }} Outcome
 */

/** These faults are faults of one part, and a person has to be told of which. */
const OF_A_PART = new Set([
  'checksum-mismatch',
  'malformed-xml',
  'unreadable-encoding',
  'wrong-namespace',
  'invalid-value',
]);

const PROTOTYPES = [Object.prototype, Array.prototype, Function.prototype, String.prototype, Map.prototype];
const keysOfPrototypes = () =>
  PROTOTYPES.map((prototype) => Reflect.ownKeys(prototype).map(String).join(' ')).join('\n');
const CLEAN = keysOfPrototypes();

/**
 * Audits a file twice and holds both outcomes against what has to hold.
 * @param {Service} service
 * @param {Buffer} file
 * @param {Limits} limits
 * @returns {Promise<Outcome>}
 * @throws where something does not hold
 */
export async function checkedOutcome(service, file, limits) {
  const before = Buffer.from(file);
  const first = await outcomeOf(service, file, limits);
  const again = await outcomeOf(service, file, limits);
  requireThat((await told(service, first)) === (await told(service, again)), 'a second audit says something else');
  requireThat(before.equals(file), 'the audit changed the file');
  requireThat(keysOfPrototypes() === CLEAN, 'a prototype has changed');
  return first;
}

/**
 * @param {Service} service
 * @param {Buffer} file
 * @param {Limits} limits
 * @returns {Promise<Outcome>}
 */
async function outcomeOf({ audit, InputError, INPUT_FAULTS, reportSchema }, file, limits) {
  try {
    const report = await audit(file, { limits, onRuleFailure: (_rule, cause) => raise(cause) });
    requireThat(report.summary.complete, 'the report is not complete');
    reportSchema.parse(report);
    return { report };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    requireThat(Object.hasOwn(INPUT_FAULTS, error.code), `${error.code} is not documented`);
    requireThat(!OF_A_PART.has(error.code) || !!error.place.part, `${error.code} names no part`);
    requireThat(error.detail.length < 1000, 'the text of the refusal is too long');
    return { refusal: error };
  }
}

/**
 * All that anybody is told.
 * @param {Service} service
 * @param {Outcome} outcome
 * @returns {Promise<string>}
 */
async function told({ FORMATS }, { report, refusal }) {
  if (refusal !== undefined) return JSON.stringify([refusal.code, refusal.message, refusal.place]);
  const written = await Promise.all(Object.values(FORMATS).map(({ format }) => format(report, { archive: 'archive' })));
  return written.map((one) => Buffer.from(one).toString('base64')).join('\n');
}

/**
 * @param {boolean} holds
 * @param {string} what
 */
function requireThat(holds, what) {
  if (!holds) throw new Error(what);
}

/**
 * @param {unknown} cause
 * @returns {never}
 */
function raise(cause) {
  throw cause;
}

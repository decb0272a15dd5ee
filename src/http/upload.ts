import type { IncomingMessage } from 'node:http';
import multipart from '@fastify/multipart';
import type { FastifyError, FastifyInstance, FastifyRequest } from 'fastify';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { announcedBytes } from './admission.js';
import {
  ARCHIVE_BODY,
  AUDIT_SENDABLE,
  FORM_TYPE,
  type Form,
  PLAN_BODY,
  type Sendable,
  sendableOf,
  typeOf,
} from './forms.js';
import { gathered, type Share, tooLarge } from './gathered.js';
import { RequestError } from './problems.js';

/** What a request sent, by field; a body that is a file itself counts as a field. */
export type Files = ReadonlyMap<string, Uint8Array>;

/** Lets the service take an archive or a plan as the body itself, or files in the fields of a form; nothing else. */
export async function acceptUploads(app: FastifyInstance, limits: Limits): Promise<void> {
  app.removeAllContentTypeParsers();
  const types = [...ARCHIVE_BODY.types, ...PLAN_BODY.types];
  app.addContentTypeParser(types, async (request: FastifyRequest, body: IncomingMessage) =>
    gathered(body.iterator({ destroyOnReturn: false }), request, limits, { limit: bareLimitOf(request), before: 0 }),
  );
  await app.register(multipart, {
    limits: { fileSize: limits.uploadBytes, files: 10, fields: 0, parts: 10, fieldNameSize: 100, headerPairs: 20 },
    throwFileSizeLimit: true,
  });
  app.addHook('onRequest', async (request) => refuseUnread(request, limits));
}

/** What the request sent, each file in memory of its own so that it can be handed to another thread. */
export async function readUpload(request: FastifyRequest, limits: Limits): Promise<Files> {
  const { form, bare } = sendableOf(request);
  if (request.isMultipart() || bare === null) return readForm(request, form, limits);
  return new Map([[bare.field, request.body as Uint8Array]]);
}

/** What bounds a body that is a file itself. */
function bareLimitOf(request: FastifyRequest): Share['limit'] {
  const { form, bare } = sendableOf(request);
  return form[bare?.field ?? ''] ?? 'uploadBytes';
}

async function readForm(request: FastifyRequest, form: Form, limits: Limits): Promise<Files> {
  const body = { bytes: 0 };
  try {
    const files = await Promise.race([readFields(request, form, limits), overflowOf(request, body, limits)]);
    const around = body.bytes - [...files.values()].reduce((sum, { length }) => sum + length, 0);
    if (around > limits.formBytes) throw tooMuchAround(around, limits);
    return files;
  } catch (cause) {
    if (cause instanceof RequestError || cause instanceof InputError) throw cause;
    throw formError(cause as FastifyError, form, limits);
  }
}

/**
 * Counts what comes, as the form's reader counts its parts only, and passes over headers that are too many or too long.
 * Rejects once more has come than a form around the largest files has.
 */
function overflowOf({ raw }: FastifyRequest, body: { bytes: number }, limits: Limits): Promise<never> {
  const most = limits.uploadBytes + limits.formBytes;
  return new Promise((_resolve, reject) => {
    raw.on('data', (piece: Uint8Array) => {
      body.bytes += piece.length;
      if (body.bytes > most) reject(tooLarge(undefined, limits.uploadBytes));
    });
  });
}

function tooMuchAround(around: number, { formBytes }: Limits): InputError {
  const detail = `the form has ${around} bytes around its files; the limit formBytes is ${formBytes}`;
  return new InputError('limit-exceeded', detail);
}

/** The form's reader knows no status for most of what a form can have wrong, and 413 for a field too many. */
function formError({ code, message }: FastifyError, form: Form, { uploadBytes }: Limits): InputError | RequestError {
  if (code === 'FST_REQ_FILE_TOO_LARGE') return tooLarge(undefined, uploadBytes);
  const isOneTooMany = ['FST_FILES_LIMIT', 'FST_FIELDS_LIMIT', 'FST_PARTS_LIMIT'].includes(code);
  const detail = isOneTooMany ? formText(form) : `the form cannot be read (${message})`;
  return new RequestError('malformed-request', detail);
}

async function readFields(request: FastifyRequest, form: Form, limits: Limits): Promise<Files> {
  const files = new Map<string, Uint8Array>();
  let before = 0;
  for await (const part of request.parts()) {
    if (part.type !== 'file') throw new RequestError('malformed-request', noFile(form, part.fieldname));
    const limit = Object.hasOwn(form, part.fieldname) ? form[part.fieldname] : undefined;
    if (limit === undefined || files.has(part.fieldname)) throw new RequestError('malformed-request', formText(form));
    const file = await gathered(part.file, request, limits, { limit, before });
    if (isNotChosen(part.filename, file)) continue;
    before += file.length;
    files.set(part.fieldname, file);
  }
  return files;
}

/** A browser sends a field where nothing is chosen as a file without name and content (WHATWG HTML, 4.10.21.4). */
function isNotChosen(name: string, { length }: Uint8Array): boolean {
  return name === '' && length === 0;
}

/** What a form of the route may hold. */
function formText(form: Form): string {
  const names = Object.keys(form).map((name) => `"${name}"`);
  return `the form takes files in the fields ${names.join(', ')}, each at most once, and nothing else`;
}

function noFile(form: Form, field: string): string {
  if (!Object.hasOwn(form, field)) return formText(form);
  return `the field "${field}" holds text, not a file (with curl: -F ${field}=@FILE)`;
}

/** Refuses a request that did not send a file. */
export function requireFile(files: Files, field: string): void {
  if (files.has(field)) return;
  throw new RequestError('malformed-request', `the form has no file in the field "${field}"`);
}

/** What to send where something else came. */
export function whatToSend({ form, bare }: Sendable = AUDIT_SENDABLE): string {
  const inForm = `a ${FORM_TYPE} body`;
  if (bare === null) return `send ${inForm}; ${formText(form)}`;
  const { field, types } = bare;
  return `send the ${field} as ${types.join(', ')}, or as the field "${field}" of ${inForm}`;
}

/** Refuses, before it is sent, a body of a kind that is not read. */
export async function refuseOtherTypes(request: FastifyRequest): Promise<void> {
  const sendable = sendableOf(request);
  const read = [...(sendable.bare?.types ?? []), FORM_TYPE];
  if (!read.includes(typeOf(request))) throw new RequestError('unsupported-media-type', whatToSend(sendable));
}

/** Refuses, before it is sent, a body that would not be read whole. */
function refuseUnread(request: FastifyRequest, limits: Limits): void {
  const encoding = request.headers['content-encoding'];
  if (encoding !== undefined && encoding !== 'identity') {
    throw new RequestError(
      'unsupported-media-type',
      `a Content-Encoding is not read; send the ${sendableOf(request).bare?.field ?? 'archive'} as it is`,
    );
  }
  const length = announcedBytes(request) ?? 0;
  const isForm = typeOf(request) === FORM_TYPE;
  const limit = isForm ? 'uploadBytes' : bareLimitOf(request);
  if (length > limits[limit] + (isForm ? limits.formBytes : 0)) throw tooLarge(length, limits[limit], limit);
}

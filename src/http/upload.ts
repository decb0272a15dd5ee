import type { IncomingMessage } from 'node:http';
import multipart from '@fastify/multipart';
import type { FastifyError, FastifyInstance, FastifyRequest } from 'fastify';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { announcedBytes } from './admission.js';
import { gathered, tooLarge } from './gathered.js';
import { RequestError } from './problems.js';

/** Media types of a body that is the archive itself. */
export const RAW_TYPES = ['application/zip', 'application/x-zip-compressed', 'application/octet-stream'] as const;

const FORM_TYPE = 'multipart/form-data';
const FIELD = 'archive';
export const WHAT_TO_SEND = `send the archive as ${RAW_TYPES.join(', ')}, or as the field "${FIELD}" of a ${FORM_TYPE} body`;
const ONE_FILE = `the form takes one file, in the field "${FIELD}", and nothing else`;
const NO_FILE = `the field "${FIELD}" holds text, not a file (with curl: -F ${FIELD}=@FILE)`;

/** Lets the service take an archive as the body itself, or as the field `archive` of a form; nothing else. */
export async function acceptUploads(app: FastifyInstance, limits: Limits): Promise<void> {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser([...RAW_TYPES], async (request: FastifyRequest, body: IncomingMessage) =>
    gathered(body.iterator({ destroyOnReturn: false }), request, limits),
  );
  await app.register(multipart, {
    limits: { fileSize: limits.uploadBytes, files: 1, fields: 0, parts: 1, fieldNameSize: 100, headerPairs: 20 },
    throwFileSizeLimit: true,
  });
  app.addHook('onRequest', async (request) => refuseUnread(request, limits));
}

/** The archive of a request, in memory of its own so that it can be handed to another thread. */
export async function readUpload(request: FastifyRequest, limits: Limits): Promise<Uint8Array> {
  return request.isMultipart() ? readForm(request, limits) : (request.body as Uint8Array);
}

async function readForm(request: FastifyRequest, limits: Limits): Promise<Uint8Array> {
  const body = { bytes: 0 };
  try {
    const archive = await Promise.race([readArchiveField(request, limits), overflowOf(request, body, limits)]);
    const around = body.bytes - archive.length;
    if (around > limits.formBytes) throw tooMuchAround(around, limits);
    return archive;
  } catch (cause) {
    if (cause instanceof RequestError || cause instanceof InputError) throw cause;
    throw formError(cause as FastifyError, limits.uploadBytes);
  }
}

/**
 * Counts what comes, as the form's reader counts its parts only, and passes over headers that are too many or too long.
 * Rejects once more has come than a form around the largest archive has.
 */
function overflowOf(
  { raw }: FastifyRequest,
  body: { bytes: number },
  { uploadBytes, formBytes }: Limits,
): Promise<never> {
  return new Promise((_resolve, reject) => {
    raw.on('data', (piece: Uint8Array) => {
      body.bytes += piece.length;
      if (body.bytes > uploadBytes + formBytes) reject(tooLarge(undefined, uploadBytes));
    });
  });
}

function tooMuchAround(around: number, { formBytes }: Limits): InputError {
  const detail = `the form has ${around} bytes around its archive; the limit formBytes is ${formBytes}`;
  return new InputError('limit-exceeded', detail);
}

/** The form's reader knows no status for most of what a form can have wrong, and 413 for a field too many. */
function formError({ code, message }: FastifyError, uploadBytes: number): InputError | RequestError {
  if (code === 'FST_REQ_FILE_TOO_LARGE') return tooLarge(undefined, uploadBytes);
  const isOneTooMany = ['FST_FILES_LIMIT', 'FST_FIELDS_LIMIT', 'FST_PARTS_LIMIT'].includes(code);
  const detail = isOneTooMany ? ONE_FILE : `the form cannot be read (${message})`;
  return new RequestError('malformed-request', detail);
}

async function readArchiveField(request: FastifyRequest, limits: Limits): Promise<Uint8Array> {
  let archive: Uint8Array | undefined;
  for await (const part of request.parts()) {
    if (part.type === 'field' && part.fieldname === FIELD) throw new RequestError('malformed-request', NO_FILE);
    if (part.type !== 'file' || part.fieldname !== FIELD) throw new RequestError('malformed-request', ONE_FILE);
    archive = await gathered(part.file, request, limits);
  }
  if (archive === undefined)
    throw new RequestError('malformed-request', `the form has no file in the field "${FIELD}"`);
  return archive;
}

/** Refuses, before it is sent, a body of a kind that is not read. */
export async function refuseOtherTypes(request: FastifyRequest): Promise<void> {
  const isRead = [...RAW_TYPES, FORM_TYPE].some((type) => type === typeOf(request));
  if (!isRead) throw new RequestError('unsupported-media-type', WHAT_TO_SEND);
}

/** Refuses, before it is sent, a body that would not be read whole. */
function refuseUnread(request: FastifyRequest, { uploadBytes, formBytes }: Limits): void {
  const encoding = request.headers['content-encoding'];
  if (encoding !== undefined && encoding !== 'identity') {
    throw new RequestError('unsupported-media-type', 'a Content-Encoding is not read; send the archive as it is');
  }
  const length = announcedBytes(request) ?? 0;
  const around = typeOf(request) === FORM_TYPE ? formBytes : 0;
  if (length > uploadBytes + around) throw tooLarge(length, uploadBytes);
}

/** The media type of the body, without parameters. */
function typeOf({ headers }: FastifyRequest): string {
  const [type = ''] = (headers['content-type'] ?? '').split(';');
  return type.trim().toLowerCase();
}

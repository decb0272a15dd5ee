import multipart from '@fastify/multipart';
import type { FastifyError, FastifyInstance, FastifyRequest } from 'fastify';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { RequestError } from './problems.js';

/** Media types of a body that is the archive itself. */
export const RAW_TYPES = ['application/zip', 'application/x-zip-compressed', 'application/octet-stream'] as const;

const FIELD = 'archive';
const ONE_FILE = `the form takes one file, in the field "${FIELD}", and nothing else`;
const NO_FILE = `the field "${FIELD}" holds text, not a file (with curl: -F ${FIELD}=@FILE)`;
/** Room for boundaries and part headers around the archive. */
const MULTIPART_OVERHEAD = 64 * 1024;

/** Lets the service take an archive as the body itself, or as the field `archive` of a form; nothing else. */
export async function acceptUploads(app: FastifyInstance, { uploadBytes }: Limits): Promise<void> {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser([...RAW_TYPES], { parseAs: 'buffer', bodyLimit: uploadBytes }, (_request, body, done) =>
    done(null, body),
  );
  await app.register(multipart, {
    limits: { fileSize: uploadBytes, files: 1, fields: 0, parts: 1, fieldNameSize: 100, headerPairs: 20 },
    throwFileSizeLimit: true,
  });
  app.addHook('onRequest', async ({ headers }) => refuseUnread(headers, uploadBytes));
}

/** The archive of a request, in memory of its own so that it can be handed to another thread. */
export async function readUpload(request: FastifyRequest, { uploadBytes }: Limits): Promise<Uint8Array> {
  if (request.isMultipart()) return asOwn(await readForm(request, uploadBytes));
  if (Buffer.isBuffer(request.body)) return asOwn(request.body);
  throw new RequestError(
    'unsupported-media-type',
    `send the archive (at most ${uploadBytes} bytes) as ${RAW_TYPES.join(', ')}, or as the field "${FIELD}" of a multipart/form-data body`,
  );
}

async function readForm(request: FastifyRequest, uploadBytes: number): Promise<Buffer> {
  try {
    return await readArchiveField(request);
  } catch (cause) {
    if (cause instanceof RequestError) throw cause;
    throw formError(cause as FastifyError, uploadBytes);
  }
}

/** The form's reader knows no status for most of what a form can have wrong, and 413 for a field too many. */
function formError({ code, message }: FastifyError, uploadBytes: number): InputError | RequestError {
  if (code === 'FST_REQ_FILE_TOO_LARGE') return tooLarge(undefined, uploadBytes);
  const isOneTooMany = ['FST_FILES_LIMIT', 'FST_FIELDS_LIMIT', 'FST_PARTS_LIMIT'].includes(code);
  const detail = isOneTooMany ? ONE_FILE : `the form cannot be read (${message})`;
  return new RequestError('malformed-request', detail);
}

async function readArchiveField(request: FastifyRequest): Promise<Buffer> {
  let archive: Buffer | undefined;
  for await (const part of request.parts()) {
    if (part.type === 'field' && part.fieldname === FIELD) throw new RequestError('malformed-request', NO_FILE);
    if (part.type !== 'file' || part.fieldname !== FIELD) {
      if (part.type === 'file') part.file.resume(); // nobody reads it, and the client would never come to its end
      throw new RequestError('malformed-request', ONE_FILE);
    }
    archive = await part.toBuffer();
  }
  if (archive === undefined)
    throw new RequestError('malformed-request', `the form has no file in the field "${FIELD}"`);
  return archive;
}

/** Refuses, before it is sent, a body that would not be read. */
function refuseUnread(headers: FastifyRequest['headers'], uploadBytes: number): void {
  const encoding = headers['content-encoding'];
  if (encoding !== undefined && encoding !== 'identity') {
    throw new RequestError('unsupported-media-type', 'a Content-Encoding is not read; send the archive as it is');
  }
  const length = Number(headers['content-length'] ?? 0);
  if (length > uploadBytes + MULTIPART_OVERHEAD) throw tooLarge(length, uploadBytes);
}

export function tooLarge(length: number | undefined, uploadBytes: number): InputError {
  const size = length === undefined ? 'more bytes than allowed' : `${length} bytes`;
  return new InputError('limit-exceeded', `the upload has ${size}; the limit uploadBytes is ${uploadBytes}`);
}

/** A buffer out of a shared pool would take the whole pool along when it is handed over. */
function asOwn(buffer: Buffer): Uint8Array {
  const isWhole = buffer.byteOffset === 0 && buffer.byteLength === buffer.buffer.byteLength;
  return isWhole ? new Uint8Array(buffer.buffer) : Uint8Array.from(buffer);
}

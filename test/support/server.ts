import { connect, type Socket } from 'node:net';
import { buffer } from 'node:stream/consumers';
import type { FastifyInstance } from 'fastify';
import { type AppOptions, buildApp } from '../../src/http/app.js';
import { AuditPool, type AuditRunner } from '../../src/http/pool.js';
import type { AuditDone, AuditTask } from '../../src/http/worker.js';
import { DEFAULT_LIMITS, type Limits } from '../../src/limits.js';

export interface Server {
  readonly app: FastifyInstance;
  readonly url: string;
  readonly port: number;
  readonly stop: () => Promise<unknown>;
}

/** A pool of the compiled workers, as they ship, or of another file in the folder of these. */
export function poolOf(
  limits: Partial<Limits> = {},
  worker = '../../dist/http/worker.js',
  onFault: (cause: unknown) => void = (cause) => console.error('a thread failed:', cause),
): AuditPool {
  return new AuditPool({
    workerFile: new URL(worker, import.meta.url),
    limits: { ...DEFAULT_LIMITS, ...limits },
    onFault,
  });
}

/** An audit of an archive, as a route would ask for it. */
export function taskOf(archive: Uint8Array): AuditTask {
  const asked = {
    format: 'json',
    policy: null,
    asOf: '2027-01-01',
    archiveName: 'archive',
    language: 'en',
    asEvents: false,
  } as const;
  return { work: 'audit', files: { archive }, asked, limits: DEFAULT_LIMITS };
}

/** Starts the threads, and waits for them. */
export async function untilReady(pool: AuditPool): Promise<void> {
  pool.start();
  while (!pool.isReady()) await new Promise(setImmediate);
}

/** The same pool for several servers: stopping one of them does not close it. */
export function shared(pool: AuditRunner): AuditRunner {
  return {
    isReady: () => pool.isReady(),
    isFull: () => pool.isFull(),
    load: () => pool.load(),
    run: (task, signal, onProgress) => pool.run(task, signal, onProgress),
    close: async () => {},
  };
}

/** A runner that fails, or does not end, as a test wants it. */
export function stubRunner(run: AuditRunner['run']): AuditRunner {
  const load = () => ({ running: 0, waiting: 0 });
  return { isReady: () => true, isFull: () => false, load, run, close: async () => {} };
}

/** What a runner answers whose report is this text. */
export function reportOf(text: string): AuditDone {
  return { body: Buffer.from(text), ruleFailures: [] };
}

export interface ServerOptions extends Partial<Omit<AppOptions, 'limits'>> {
  readonly limits?: Partial<Limits>;
}

/** The service on a free port of this machine. */
export async function startServer({ limits, ...options }: ServerOptions = {}): Promise<Server> {
  const all = { ...DEFAULT_LIMITS, ...limits };
  const audits = options.audits ?? poolOf({ auditThreads: 2, ...limits });
  if (audits instanceof AuditPool) await untilReady(audits);
  const app = await buildApp({ logger: false, ...options, audits, limits: all });
  const url = await app.listen({ host: '127.0.0.1', port: 0 });
  return { app, url, port: Number(new URL(url).port), stop: () => app.close() };
}

export const ZIP = { 'content-type': 'application/zip' };
export const FORM = { 'content-type': 'multipart/form-data; boundary=B' };

/** @param query with its question mark */
export function upload(url: string, body: Uint8Array | string, headers: Record<string, string> = ZIP, query = '') {
  return fetch(`${url}/v1/audits${query}`, { method: 'POST', body: body as NonNullable<RequestInit['body']>, headers });
}

/** @param query with its question mark */
export function compared(url: string, body: Uint8Array | string, headers: Record<string, string> = FORM, query = '') {
  return fetch(`${url}/v1/comparisons${query}`, {
    method: 'POST',
    body: body as NonNullable<RequestInit['body']>,
    headers,
  });
}

/** @param query with its question mark */
export function whatIfOf(url: string, body: Uint8Array | string, headers: Record<string, string> = FORM, query = '') {
  return fetch(`${url}/v1/what-ifs${query}`, {
    method: 'POST',
    body: body as NonNullable<RequestInit['body']>,
    headers,
  });
}

export const YAML = { 'content-type': 'application/yaml' };

/** @param query with its question mark */
export function planned(url: string, body: Uint8Array | string, headers: Record<string, string> = YAML, query = '') {
  return fetch(`${url}/v1/plans${query}`, { method: 'POST', body: body as NonNullable<RequestInit['body']>, headers });
}

export interface FormPart {
  readonly name: string;
  /** Left out: a field and no file. */
  readonly filename?: string;
  readonly data: string | Uint8Array;
}

/** A form of files, by field. */
export function filesForm(files: Readonly<Record<string, string | Uint8Array>>): Buffer {
  return form(Object.entries(files).map(([name, data]) => ({ name, filename: name, data })));
}

/** A form with the boundary `B`, as a browser writes it. */
export function form(parts: readonly FormPart[], end = '--B--\r\n'): Buffer {
  const pieces = parts.flatMap(({ name, filename, data }) => {
    const file = filename === undefined ? '' : `; filename="${filename}"\r\nContent-Type: application/zip`;
    return [`--B\r\nContent-Disposition: form-data; name="${name}"${file}\r\n\r\n`, data, '\r\n'];
  });
  return Buffer.concat([...pieces, end].map((piece) => Buffer.from(piece)));
}

export interface RawAnswer {
  readonly status: number;
  readonly headers: Headers;
  readonly body: string;
}

/** A bare connection, for what a well-behaved client would never send. */
export async function open(port: number): Promise<Socket> {
  const socket = connect({ host: '127.0.0.1', port });
  await new Promise((resolve, reject) => socket.once('connect', resolve).once('error', reject));
  return socket;
}

/** All that comes until the service closes the connection, as one answer. */
export async function answerOn(socket: Socket): Promise<RawAnswer> {
  const [head = '', ...body] = (await buffer(socket)).toString().split('\r\n\r\n');
  const [first = '', ...lines] = head.split('\r\n');
  const headers = new Headers(lines.map((line) => line.split(/: */, 2) as [string, string]));
  return { status: Number(first.split(' ')[1]), headers, body: body.join('\r\n\r\n') };
}

/** Sends text or bytes as they are; the request should ask for `Connection: close`. */
export async function exchange(port: number, ...pieces: readonly (string | Uint8Array)[]): Promise<RawAnswer> {
  const socket = await open(port);
  for (const piece of pieces) socket.write(piece);
  return answerOn(socket);
}

/** The head of an upload. */
export function head(headers: Readonly<Record<string, string | number>>, path = '/v1/audits', method = 'POST'): string {
  const all = { host: '127.0.0.1', connection: 'close', ...headers };
  const lines = Object.entries(all).map(([name, value]) => `${name}: ${value}\r\n`);
  return `${method} ${path} HTTP/1.1\r\n${lines.join('')}\r\n`;
}

import { randomUUID } from 'node:crypto';
import { STATUS_CODES } from 'node:http';
import type { Duplex } from 'node:stream';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Limits } from '../limits.js';
import { LANGUAGES, type Language } from '../words/language.js';
import { languageAsked, languageHeaders } from './asked.js';
import { PROBLEM_PAGE_POLICY, problemPage } from './page/problem.js';
import { documentOf, PROBLEM_MEDIA_TYPE, type Problem, requestProblem } from './problems.js';

/**
 * What the OWASP HTTP Headers Cheat Sheet asks of an interface for programs; a report that is a page says more of itself
 * (`pageHeaders`). Its `Permissions-Policy` is for pages that ask a browser for something, and none does; its
 * `Strict-Transport-Security` is for whoever ends TLS to say.
 */
const SECURITY_HEADERS = {
  'cache-control': 'no-store',
  'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
  'cross-origin-resource-policy': 'same-origin',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
} as const;

/** The headers of every answer. */
export function commonHeaders(requestId: string): Record<string, string> {
  return { 'request-id': requestId, ...SECURITY_HEADERS };
}

const problems = new WeakMap<FastifyReply, Problem>();

/**
 * Answers with a problem: as a document, or as a page to a browser that would show a person the answer as it is. Its
 * language is the one that the request asks for.
 */
export function sendProblem(
  reply: FastifyReply,
  problem: Problem,
  language: Language = languageAsked(reply.request),
): unknown {
  noteProblem(reply, problem);
  const { request } = reply;
  const document = documentOf(problem, language);
  reply.code(problem.status).headers(languageHeaders(reply, language));
  if (!wantsPage(request)) return reply.type(PROBLEM_MEDIA_TYPE).send(JSON.stringify(document));
  reply.header('content-security-policy', PROBLEM_PAGE_POLICY);
  return reply.type('text/html; charset=utf-8').send(problemPage(document, request.id, language));
}

/** A browser that loads an address asks for a page before anything else, and names no JSON. */
function wantsPage({ headers: { accept = '' } }: FastifyRequest): boolean {
  return /^\s*text\/html\s*(?:[,;]|$)/i.test(accept) && !/json/i.test(accept);
}

/** Notes, where the status tells nothing of it, that a request is answered with a problem. */
export function noteProblem(reply: FastifyReply, problem: Problem): void {
  problems.set(reply, problem);
}

/** The problem that a request was answered with, if it was. */
export function problemSent(reply: FastifyReply): Problem | undefined {
  return problems.get(reply);
}

/** Answers, on the bare connection, what never became a request. Nothing is logged: the error holds what was sent. */
export function answerBroken(limits: Limits): (error: NodeJS.ErrnoException, socket: Duplex) => void {
  return ({ code }, socket) => {
    if (code === 'ECONNRESET' || !socket.writable) socket.destroy();
    else answerBare(socket, brokenProblem(code, limits));
  };
}

/** Answers CONNECT, of which node makes no request either: it would close the connection without a word. */
export function refuseTunnels(app: FastifyInstance): void {
  app.server.on('connect', (_request, socket) => {
    socket.on('error', () => {}); // node has let go of the connection, and a client that resets it is no fault of ours
    const detail = 'this is no proxy; GET /openapi.yaml tells what there is';
    answerBare(socket, requestProblem('method-not-allowed', detail), { allow: '' });
  });
}

function answerBare(socket: Duplex, problem: Problem, more: Readonly<Record<string, string>> = {}): void {
  const body = JSON.stringify(documentOf(problem, LANGUAGES[0]));
  const headers = {
    ...commonHeaders(randomUUID()),
    ...more,
    'content-type': `${PROBLEM_MEDIA_TYPE}; charset=utf-8`,
    'content-length': Buffer.byteLength(body),
    connection: 'close',
  };
  const lines = Object.entries(headers).map(([name, value]) => `${name}: ${value}\r\n`);
  const head = `HTTP/1.1 ${problem.status} ${STATUS_CODES[problem.status]}\r\n${lines.join('')}\r\n`;
  socket.end(head + body, () => socket.destroy());
}

function brokenProblem(code: string | undefined, { headerBytes, headerSeconds, requestSeconds }: Limits): Problem {
  if (code === 'ERR_HTTP_REQUEST_TIMEOUT') {
    const detail = `a request has to arrive within ${requestSeconds} seconds (the limit requestSeconds), its headers within ${headerSeconds} (headerSeconds)`;
    return requestProblem('request-timeout', detail);
  }
  if (code === 'HPE_HEADER_OVERFLOW') {
    return requestProblem(
      'headers-too-large',
      `the headers together are over the limit headerBytes, which is ${headerBytes}`,
    );
  }
  return requestProblem('malformed-request', 'this is not HTTP, or it ends before its announced end');
}

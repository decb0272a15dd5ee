// @ts-check
import { Agent, request } from 'node:http';
import { connect } from 'node:net';
import { buffer } from 'node:stream/consumers';
import { setTimeout as wait } from 'node:timers/promises';

/**
 * One client of the service, on kept and on fresh connections.
 *
 * @typedef {object} Sent
 * @property {string} [method]
 * @property {string} [path]
 * @property {Record<string, string>} [headers]
 * @property {Buffer} [body]
 * @property {boolean} [kept] on a connection that is kept alive
 * @property {number} [pieces] sends the body in so many pieces, with pauses
 *
 * @typedef {object} Answer
 * @property {number} status
 * @property {import('node:http').IncomingHttpHeaders} headers
 * @property {Buffer} body
 */

const HOST = '127.0.0.1';
const PAUSE_MS = 20;

export class Client {
  #agent = new Agent({ keepAlive: true });

  /**
   * @param {number} port
   * @param {number} answerWithinMs no answer within this time is one that is lost
   */
  constructor(port, answerWithinMs) {
    this.port = port;
    this.answerWithinMs = answerWithinMs;
  }

  /**
   * @param {Sent} sent
   * @returns {Promise<Answer>}
   */
  async send(sent) {
    const { method = 'POST', path = '/v1/audits', body = Buffer.alloc(0), headers = {} } = sent;
    const length = method === 'GET' ? {} : { 'content-length': body.length };
    const agent = sent.kept ? this.#agent : new Agent();
    const signal = AbortSignal.timeout(this.answerWithinMs);
    const outgoing = request({
      host: HOST,
      port: this.port,
      method,
      path,
      agent,
      signal,
      headers: { ...headers, ...length },
    });
    const answered = new Promise((resolve, reject) => outgoing.once('response', resolve).once('error', reject));
    const [incoming] = await Promise.all([answered, writeInPieces(outgoing, body, sent)]);
    return { status: incoming.statusCode, headers: incoming.headers, body: await buffer(incoming) };
  }

  /**
   * Sends bytes as they are, and reads until the service hangs up.
   * @param {string} text
   * @returns {Promise<string>}
   */
  async sendRaw(text) {
    const socket = connect({ host: HOST, port: this.port });
    socket.setTimeout(this.answerWithinMs, () => socket.destroy(new Error('no answer in time')));
    socket.write(text);
    return (await buffer(socket)).toString();
  }

  /**
   * Begins an upload and hangs up in the middle of it.
   * @param {Buffer} body
   */
  async abort(body) {
    const socket = connect({ host: HOST, port: this.port });
    socket.on('error', () => {});
    const type = 'Content-Type: application/zip';
    socket.write(`POST /v1/audits HTTP/1.1\r\nHost: a\r\n${type}\r\nContent-Length: ${body.length}\r\n\r\n`);
    socket.write(body.subarray(0, body.length >> 1));
    await wait(PAUSE_MS);
    socket.destroy();
  }

  close() {
    this.#agent.destroy();
  }
}

/**
 * @param {import('node:http').ClientRequest} outgoing
 * @param {Buffer} body
 * @param {Sent} sent
 */
async function writeInPieces(outgoing, body, { pieces = 1 }) {
  const size = Math.ceil(body.length / pieces);
  for (let at = 0; at < body.length; at += size) {
    outgoing.write(body.subarray(at, at + size));
    if (pieces > 1) await wait(PAUSE_MS);
  }
  outgoing.end();
}

import { open } from '../support/server.js';

export interface Answer {
  readonly status: number;
  readonly headers: Headers;
  readonly body: string;
}

/** Sends something on a connection of its own. @returns all answers, once the service has closed the connection */
export type Send = (port: number) => Promise<readonly Answer[]>;

type Bytes = Uint8Array | string;

/** An archive as the whole body. */
export function upload(archive: () => Bytes): Send {
  return post('application/zip', archive);
}

/** A body of a media type, with its length. */
export function post(type: string, body: () => Bytes): Send {
  return async (port) => {
    const bytes = Buffer.from(body());
    const headers = ['Host: a', 'Connection: close', `Content-Type: ${type}`, `Content-Length: ${bytes.length}`];
    return sent(port, [request('POST /v1/audits', headers), bytes]);
  };
}

/** Bytes as they are. */
export function raw(...pieces: readonly Bytes[]): Send {
  return (port) => sent(port, pieces);
}

/** Bytes as they are, and then the client's end of the connection is closed. */
export function rawAndEnd(...pieces: readonly Bytes[]): Send {
  return (port) => sent(port, pieces, true);
}

/** The head of a request, its header fields as they are. */
export function request(line: string, headers: readonly string[], version = 'HTTP/1.1'): string {
  return [`${line} ${version}`, ...headers, '', ''].join('\r\n');
}

/** A client that reads while it writes: one that is refused early is not sent the rest of its own body first. */
async function sent(port: number, pieces: readonly Bytes[], isEnded = false): Promise<readonly Answer[]> {
  const socket = await open(port);
  const chunks: Buffer[] = [];
  socket.on('data', (chunk: Buffer) => chunks.push(chunk));
  socket.on('error', () => {}); // the service may hang up on what is still being sent; its answer has to be there
  const closed = new Promise((resolve) => socket.once('close', resolve));
  for (const piece of pieces) socket.write(piece);
  if (isEnded) socket.end();
  await closed;
  return answersIn(Buffer.concat(chunks));
}

function answersIn(bytes: Buffer): readonly Answer[] {
  const answers: Answer[] = [];
  let rest = bytes;
  while (rest.length > 0) {
    const headEnd = rest.indexOf('\r\n\r\n');
    if (headEnd < 0) throw new Error(`this is no answer: ${rest}`);
    const [first = '', ...lines] = rest.toString('latin1', 0, headEnd).split('\r\n');
    const headers = new Headers(lines.map((line) => line.split(/: */, 2) as [string, string]));
    const end = headEnd + 4 + Number(headers.get('content-length') ?? 0);
    answers.push({ status: Number(first.split(' ')[1]), headers, body: rest.toString('utf8', headEnd + 4, end) });
    rest = rest.subarray(end);
  }
  return answers;
}

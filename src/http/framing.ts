import type { IncomingMessage } from 'node:http';
import type { FastifyInstance } from 'fastify';
import { RequestError } from './problems.js';

/** A name, an IPv4 or a bracketed IPv6 address, and the port, if any (RFC 3986, section 3.2.2). */
const HOST = /^(?:\[[\w.~!$&'()*+,;=:%-]+\]|(?:[\w.~!$&'()*+,;=-]|%[0-9a-f]{2})+)(?::\d*)?$/i;
const HOST_NEEDED = 'the request needs one header Host, which holds a name or an address and maybe a port';

/**
 * Refuses requests that node takes, but that two readers in a row could take for something else. Their connection is
 * closed, as what follows on it cannot be trusted.
 */
export function refuseAmbiguous(app: FastifyInstance): void {
  app.addHook('onRequest', async ({ raw }) => {
    const fault = framingFault(raw);
    if (fault !== undefined) throw new RequestError('malformed-request', fault, { connection: 'close' });
  });
}

function framingFault(raw: IncomingMessage): string | undefined {
  const { httpVersion, headers } = raw;
  if (httpVersion !== '1.1' && httpVersion !== '1.0') return 'the first line has to end in HTTP/1.1 (or HTTP/1.0)';
  if (httpVersion === '1.0' && headers['transfer-encoding'] !== undefined) {
    return 'HTTP/1.0 knows no Transfer-Encoding; send the request as HTTP/1.1, or its body with a Content-Length';
  }
  const hosts = hostsOf(raw);
  if (httpVersion === '1.0' && hosts.length === 0) return undefined;
  const [host = ''] = hosts;
  return hosts.length === 1 && HOST.test(host) ? undefined : HOST_NEEDED;
}

/** All that stand there: node's own list of headers keeps the first alone. */
function hostsOf({ rawHeaders }: IncomingMessage): string[] {
  return rawHeaders.filter((_, index) => index % 2 === 1 && rawHeaders[index - 1]?.toLowerCase() === 'host');
}

import { lookup } from 'node:dns/promises';
import { BlockList } from 'node:net';

const LOOPBACK = new BlockList();
LOOPBACK.addSubnet('127.0.0.0', 8); // and the same written as IPv6, which node takes it to include
LOOPBACK.addAddress('::1', 'ipv6');

export interface Exposure {
  readonly host: string;
  readonly trustProxy: readonly string[];
}

/** Whether others than the users of this machine reach the service: by its address, or through a proxy. */
export async function isExposed({ host, trustProxy }: Exposure): Promise<boolean> {
  return trustProxy.length > 0 || !(await isLoopback(host));
}

/** A name has to lead to the loopback by every address it has; an empty one, which node takes for all, has none. */
async function isLoopback(host: string): Promise<boolean> {
  const addresses = host === '' ? [] : await lookup(host, { all: true });
  return (
    addresses.length > 0 &&
    addresses.every(({ address, family }) => LOOPBACK.check(address, family === 6 ? 'ipv6' : 'ipv4'))
  );
}

import { MessageChannel } from 'node:worker_threads';

const { port1: nowhere, port2 } = new MessageChannel();
port2.close();
nowhere.unref();

/**
 * Gives the memory of a buffer back at once. The garbage collector does not see it as its own, and would let tens of
 * megabytes of such buffers pile up between two runs.
 *
 * A message takes what it transfers along even where nobody is left to receive it (HTML, structured serialising with
 * transfer; from Node 22 on `ArrayBuffer.prototype.transfer` would do).
 * @param buffer owned by nobody else; of no use afterwards
 */
export function release(buffer: ArrayBuffer): void {
  nowhere.postMessage(null, [buffer]);
}

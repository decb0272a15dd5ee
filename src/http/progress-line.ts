import { MessageChannel, type MessagePort, receiveMessageOnPort } from 'node:worker_threads';
import type { OnProgress, Progress } from '../progress.js';

/** The line on which a thread tells of its progress. It has to be ended however the audit ends. */
export class ProgressLine {
  /** The end that the thread is handed. */
  readonly port: MessagePort;
  readonly #here: MessagePort;
  readonly #onProgress: OnProgress;

  constructor(onProgress: OnProgress) {
    const { port1, port2 } = new MessageChannel();
    this.#onProgress = onProgress;
    this.#here = port1.on('message', onProgress);
    this.port = port2;
  }

  /** Passes on what was told before the audit ended, which may arrive after its outcome, and closes both ends. */
  end(): void {
    for (;;) {
      const next: { message: Progress } | undefined = receiveMessageOnPort(this.#here);
      if (next === undefined) break;
      this.#onProgress(next.message);
    }
    this.#here.close();
    this.port.close(); // of an audit that no thread took; else it is the thread's by now
  }
}

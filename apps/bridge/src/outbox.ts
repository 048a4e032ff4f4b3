// Sends whole recordings to the server and keeps each until the server says that it is on its disk.
import { createHash } from 'node:crypto';
import { readdir, readFile, unlink, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { parseJson, Receipt } from '@stillprop/contracts';
import { type Folders, moveFile } from './folders.js';
import { bearer } from './serverLink.js';

const FIRST_WAIT_MS = 500;
const LONGEST_WAIT_MS = 30_000;
const ANSWER_WITHIN_MS = 30_000;
/** Client errors that say something about the server or the way to it, not about the recording: tried again. */
const RETRIABLE = new Set([401, 403, 404, 405, 408, 425, 429]);

export interface OutboxListener {
  /** By which the server knows the station that a recording was made on; null: none. */
  tokenOf?(station: string): string | null;
  /** A recording that the server will not take. */
  onRefused(message: string): void;
  log(line: string): void;
}

type Sent = 'delivered' | 'refused' | 'again' | 'unreachable';

/** The outbox of one bridge; it survives restarts because it is a folder. */
export class Outbox {
  #waiting = 0;
  #closed = false;
  #wake: () => void = () => undefined;
  #woken = true;
  readonly #stop = new AbortController();
  readonly #running: Promise<void>;

  constructor(
    private readonly folders: Folders,
    private readonly serverUrl: string | null,
    private readonly listener: OutboxListener,
  ) {
    this.#running = this.#run();
  }

  /** Recordings not acknowledged yet. */
  get waiting(): number {
    return this.#waiting;
  }

  /** Looks again now: a recording came in, or the server is back. */
  look(): void {
    this.#woken = true;
    this.#wake();
  }

  async close(): Promise<void> {
    this.#closed = true;
    this.#stop.abort();
    this.#wake();
    await this.#running;
  }

  async #run(): Promise<void> {
    let waitMs = FIRST_WAIT_MS;
    while (!this.#closed) {
      this.#woken = false;
      const done = await this.#sendAll().catch((error: Error) => {
        this.listener.log(`outbox: ${error.message}`);
        return false;
      });
      waitMs = done ? FIRST_WAIT_MS : Math.min(LONGEST_WAIT_MS, waitMs * 2);
      if (!this.#closed && !this.#woken)
        await this.#sleep(done ? LONGEST_WAIT_MS : waitMs * (0.75 + 0.5 * Math.random()));
    }
  }

  /** @returns Whether all that can be done is done. */
  async #sendAll(): Promise<boolean> {
    const names = (await readdir(this.folders.outbox)).filter((name) => name.endsWith('.ndjson')).sort();
    this.#waiting = names.length;
    if (this.serverUrl === null) return true;
    let done = true;
    for (const name of names) {
      if (this.#closed) return true;
      const sent = await this.#send(join(this.folders.outbox, name), this.serverUrl);
      if (sent === 'unreachable') return false; // the next would fare no better
      if (sent === 'again') done = false;
      else this.#waiting -= 1;
    }
    return done;
  }

  async #send(path: string, serverUrl: string): Promise<Sent> {
    const name = basename(path);
    const bytes = await readFile(path);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    let status: number;
    let answer: string;
    try {
      const response = await fetch(`${serverUrl.replace(/\/+$/, '')}/api/recordings`, {
        method: 'POST',
        headers: {
          'content-type': 'application/x-ndjson',
          'x-content-sha256': sha256,
          ...bearer(this.listener.tokenOf?.(stationOf(bytes))),
        },
        body: bytes,
        signal: AbortSignal.any([this.#stop.signal, AbortSignal.timeout(ANSWER_WITHIN_MS)]),
      });
      status = response.status;
      answer = await response.text();
    } catch {
      return 'unreachable';
    }
    if (status >= 200 && status < 300) return this.#acknowledged(path, sha256, answer);
    this.listener.log(`outbox: the server answered ${status} to ${name}`);
    if (status < 400 || status >= 500 || RETRIABLE.has(status)) return 'again';
    await moveFile(path, join(this.folders.refused, name));
    await writeFile(join(this.folders.refused, `${name}.reason.txt`), `The server answered ${status}: ${answer}\n`);
    this.listener.onRefused(`The server does not take recording ${name}: it is kept in the folder "refused".`);
    return 'refused';
  }

  /** Only a receipt for these very bytes of this very attempt lets the file go. */
  async #acknowledged(path: string, sha256: string, answer: string): Promise<Sent> {
    const attemptId = basename(path, '.ndjson');
    const receipt = parseJson(Receipt, answer, 'receipt');
    if (!receipt.ok || receipt.value.attemptId !== attemptId || receipt.value.sha256 !== sha256) {
      const why = receipt.ok ? 'it is for something else' : receipt.problem.message;
      this.listener.log(`outbox: no valid receipt for ${attemptId}: ${why}`);
      return 'again';
    }
    await unlink(path);
    this.listener.log(`outbox: the server has ${attemptId}`);
    return 'delivered';
  }

  #sleep(ms: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, ms);
      this.#wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }
}

/** The station that a recording names in its first line; '' if it names none. */
function stationOf(bytes: Buffer): string {
  const feed = bytes.indexOf(0x0a);
  try {
    const { station } = JSON.parse(bytes.toString('utf8', 0, feed < 0 ? bytes.length : feed)) as { station?: unknown };
    return typeof station === 'string' ? station : '';
  } catch {
    return '';
  }
}

// Writes one recording: append-only lines, on the disk within a quarter of a second, events at once; then to the outbox.
import { type FileHandle, open } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { type RecordingEnd, type RecordingLine, recordingLine } from '@stillprop/contracts';
import { moveFile, syncFolder } from './folders.js';

const FLUSH_EVERY_MS = 250;
const RETRY_MS = 1000;

export interface RecorderListener {
  /** The disk refuses; null: it takes data again. What could not be written stays in memory and is tried again. */
  onProblem(message: string | null): void;
}

/** One recording under way. Nothing here throws at the exercise: disk trouble goes to the listener. */
export class Recorder {
  #handle: FileHandle | null = null;
  #created = false;
  /** Bytes safely on the disk; the next write begins here, so a write that broke off is simply written over. */
  #offset = 0;
  #waiting: string[] = [];
  #writing: Promise<void> | null = null;
  #problem = false;
  #samples = 0;
  #givenUp = false;
  readonly #timer: NodeJS.Timeout;

  constructor(
    readonly path: string,
    private readonly listener: RecorderListener,
  ) {
    this.#timer = setInterval(() => void this.#flush(), FLUSH_EVERY_MS);
  }

  /** Samples appended so far. */
  get samples(): number {
    return this.#samples;
  }

  /** Appends a line; samples wait for the next flush, everything else is flushed at once. */
  append(line: RecordingLine): void {
    this.#waiting.push(recordingLine(line));
    if (line.kind === 'sample') this.#samples += 1;
    else void this.#flush();
  }

  /**
   * Writes the end line, makes the file last and moves it to the outbox. Tries on while the disk refuses, until
   * {@link giveUp}. @returns The path in the outbox, or null if it was given up: the next start recovers the rest.
   */
  async finish(end: Omit<RecordingEnd, 'kind' | 'samples'>, outbox: string): Promise<string | null> {
    this.append({ kind: 'end', ...end, samples: this.#samples });
    const target = join(outbox, basename(this.path));
    try {
      while (!this.#givenUp) {
        await this.#flush();
        if (this.#waiting.length === 0 && (await this.#moved(target))) return target;
        await new Promise((resolve) => setTimeout(resolve, RETRY_MS));
      }
      return null;
    } finally {
      clearInterval(this.#timer);
    }
  }

  /** Ends retries; called when the program closes. */
  giveUp(): void {
    this.#givenUp = true;
  }

  /** Stops without an end line, as a crash would. */
  async abandon(): Promise<void> {
    clearInterval(this.#timer);
    this.#givenUp = true;
    await this.#writing;
    await this.#handle?.close();
    this.#handle = null;
  }

  async #moved(target: string): Promise<boolean> {
    try {
      await this.#handle?.sync();
      await this.#handle?.close();
      this.#handle = null;
      await moveFile(this.path, target);
      return true;
    } catch (error) {
      this.#trouble(error);
      return false;
    }
  }

  /** Writes until nothing waits or the disk refuses; one writer at a time. */
  async #flush(): Promise<void> {
    while (this.#writing !== null) await this.#writing;
    if (this.#waiting.length === 0) return;
    this.#writing = this.#write();
    await this.#writing;
    this.#writing = null;
  }

  async #write(): Promise<void> {
    const lines = this.#waiting;
    this.#waiting = [];
    try {
      this.#handle ??= await this.#opened();
      const bytes = Buffer.from(lines.join(''), 'utf8');
      for (let done = 0; done < bytes.length; ) {
        const { bytesWritten } = await this.#handle.write(bytes, done, bytes.length - done, this.#offset + done);
        done += bytesWritten;
      }
      await this.#handle.datasync();
      this.#offset += bytes.length;
      if (this.#problem) this.listener.onProblem(null);
      this.#problem = false;
    } catch (error) {
      this.#waiting = [...lines, ...this.#waiting];
      await this.#handle?.close().catch(() => undefined); // the error already told is the one that matters
      this.#handle = null;
      this.#trouble(error);
    }
  }

  async #opened(): Promise<FileHandle> {
    const handle = await open(this.path, this.#created ? 'r+' : 'wx');
    if (!this.#created) await syncFolder(dirname(this.path));
    this.#created = true;
    return handle;
  }

  #trouble(error: unknown): void {
    this.#problem = true;
    this.listener.onProblem(`The recording cannot be written: ${(error as Error).message}`);
  }
}

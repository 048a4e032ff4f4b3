// Writes one recording: append-only lines, on the disk within a quarter of a second, events at once; then to the outbox.
import { type FileHandle, open } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { type RecordingEnd, type RecordingLine, recordingLine } from '@stillprop/contracts';
import { moveFile, syncFolder } from './folders.js';

const FLUSH_EVERY_MS = 250;
const RETRY_MS = 1000;
/** One write: a disk that refuses is then not offered all that waits again and again. */
const WRITE_CHARS = 1024 * 1024;
/** Kept in memory while the disk refuses: about a quarter of an hour at 100 samples a second. */
const MOST_WAITING_CHARS = 32 * 1024 * 1024;

export interface RecorderListener {
  /**
   * The disk refuses; null: it takes data again. What could not be written stays in memory and is tried again; samples
   * that memory cannot hold are lost, and then the message says so, also when the disk takes data again.
   */
  onProblem(message: string | null): void;
}

/** One recording under way. Nothing here throws at the exercise: disk trouble goes to the listener. */
export class Recorder {
  #handle: FileHandle | null = null;
  #created = false;
  /** The file's name is safe too. */
  #named = false;
  /** Bytes safely on the disk; the next write begins here, so a write that broke off is simply written over. */
  #offset = 0;
  readonly #waiting: string[] = [];
  #waitingChars = 0;
  #writing: Promise<void> | null = null;
  #problem = false;
  #samples = 0;
  #lost = { samples: 0, told: 0, lastS: 0 };
  #givenUp = false;
  readonly #timer: NodeJS.Timeout;

  constructor(
    readonly path: string,
    private readonly listener: RecorderListener,
    private readonly mostWaitingChars = MOST_WAITING_CHARS,
  ) {
    this.#timer = setInterval(() => void this.#flush(), FLUSH_EVERY_MS);
  }

  /** Samples appended so far, without those lost. */
  get samples(): number {
    return this.#samples;
  }

  /** The disk refused what was last offered to it. */
  get inTrouble(): boolean {
    return this.#problem;
  }

  /**
   * Appends a line; samples wait for the next flush, everything else is flushed at once. When memory is full, samples are
   * lost; all else is little and is kept.
   */
  append(line: RecordingLine): void {
    if (line.kind !== 'sample') {
      this.#wait(line);
      void this.#flush();
    } else if (this.#waitingChars < this.mostWaitingChars) {
      this.#wait(line);
      this.#samples += 1;
    } else {
      this.#lost = { ...this.#lost, samples: this.#lost.samples + 1, lastS: line.timeS };
    }
  }

  /** Resolves when all that was appended before has been offered to the disk: it is there, or the listener was told. */
  flushed(): Promise<void> {
    return this.#flush();
  }

  /**
   * Writes the end line, makes the file last and moves it to the outbox. Tries on while the disk refuses, until
   * {@link giveUp}. @returns The path in the outbox, or null if it was given up: the next start recovers the rest.
   */
  async finish(end: Omit<RecordingEnd, 'kind' | 'samples'>, outbox: string): Promise<string | null> {
    this.#tellLost();
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
      this.#recovered();
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

  /** Writes what waits now, a piece at a time. */
  async #write(): Promise<void> {
    for (let left = this.#waiting.length; left > 0; ) {
      const lines = this.#nextLines(left);
      if (!(await this.#written(lines.join('')))) return;
      this.#waiting.splice(0, lines.length);
      for (const line of lines) this.#waitingChars -= line.length;
      left -= lines.length;
      this.#recovered();
    }
  }

  #nextLines(most: number): string[] {
    let chars = 0;
    let count = 0;
    while (count < most && chars < WRITE_CHARS) {
      chars += (this.#waiting[count] as string).length;
      count += 1;
    }
    return this.#waiting.slice(0, count);
  }

  async #written(text: string): Promise<boolean> {
    try {
      const handle = await this.#opened();
      const bytes = Buffer.from(text, 'utf8');
      for (let done = 0; done < bytes.length; ) {
        const { bytesWritten } = await handle.write(bytes, done, bytes.length - done, this.#offset + done);
        done += bytesWritten;
      }
      await handle.datasync();
      this.#offset += bytes.length;
      return true;
    } catch (error) {
      await this.#handle?.close().catch(() => undefined); // the error already told is the one that matters
      this.#handle = null;
      this.#trouble(error);
      return false;
    }
  }

  /** The file, made by the first call; a later one goes on with it, also where the first failed half-way. */
  async #opened(): Promise<FileHandle> {
    this.#handle ??= await open(this.path, this.#created ? 'r+' : 'wx');
    this.#created = true;
    if (!this.#named) await syncFolder(dirname(this.path));
    this.#named = true;
    return this.#handle;
  }

  #wait(line: RecordingLine): void {
    const text = recordingLine(line);
    this.#waiting.push(text);
    this.#waitingChars += text.length;
  }

  #trouble(error: unknown): void {
    this.#problem = true;
    const lost =
      this.#lost.samples > this.#lost.told
        ? ' Memory for it is full: every further sample is lost until the disk takes data again.'
        : '';
    this.listener.onProblem(`The recording cannot be written: ${(error as Error).message}.${lost}`);
  }

  #recovered(): void {
    this.#tellLost();
    if (!this.#problem) return;
    this.#problem = false;
    const { samples } = this.#lost;
    this.listener.onProblem(
      samples === 0
        ? null
        : `The recording is written again, but samples were lost while the disk refused (${samples}): its debrief has a gap.`,
    );
  }

  /** Puts into the recording how many samples it lacks, behind the last one before them. */
  #tellLost(): void {
    const { samples, told, lastS } = this.#lost;
    if (samples === told) return;
    const lostSamples = samples - told;
    this.#lost = { samples, told: samples, lastS };
    const text = `Samples were lost (${lostSamples}): the disk of the bridge took no data.`;
    this.#wait({ kind: 'event', timeS: lastS, code: 'data-fault', text, figures: { lostSamples } });
  }
}

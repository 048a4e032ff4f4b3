// Cuts a stream of bytes into lines, however its pieces fall; a line that grows too long is dropped whole.

const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;

export interface Lines {
  /** Without line break; empty ones are left out. */
  readonly lines: Uint8Array[];
  /** Lines given up since the last call because they were too long: each is told once, when it grows beyond. */
  readonly tooLong: number;
}

/** The lines of one connection. It holds at most one line's bytes. */
export class LineCutter {
  #held: Uint8Array[] = [];
  #heldBytes = 0;
  #dropping = false;

  /** @param longestBytes Longest line that is kept, without its line break. */
  constructor(private readonly longestBytes: number) {}

  give(chunk: Uint8Array): Lines {
    const lines: Uint8Array[] = [];
    let tooLong = 0;
    let from = 0;
    while (from < chunk.length) {
      const feed = chunk.indexOf(LINE_FEED, from);
      const piece = chunk.subarray(from, feed < 0 ? chunk.length : feed);
      if (!this.#dropping && !this.#hold(piece)) tooLong += 1;
      if (feed < 0) break;
      from = feed + 1;
      const line = this.#end();
      if (line === null) continue;
      if (line.length > this.longestBytes) tooLong += 1;
      else if (line.length > 0) lines.push(line);
    }
    return { lines, tooLong };
  }

  /** One byte more than a line may have is held: it may be the carriage return of the line break. */
  #hold(piece: Uint8Array): boolean {
    if (this.#heldBytes + piece.length > this.longestBytes + 1) {
      this.#forget();
      this.#dropping = true;
      return false;
    }
    if (piece.length > 0) this.#held.push(piece.slice()); // the chunk's own memory may be far larger
    this.#heldBytes += piece.length;
    return true;
  }

  /** null: this line was given up before. */
  #end(): Uint8Array | null {
    if (this.#dropping) {
      this.#dropping = false;
      return null;
    }
    const [first = new Uint8Array()] = this.#held;
    const line = this.#held.length > 1 ? Buffer.concat(this.#held) : first;
    this.#forget();
    return line.at(-1) === CARRIAGE_RETURN ? line.subarray(0, -1) : line;
  }

  #forget(): void {
    this.#held = [];
    this.#heldBytes = 0;
  }
}

// `stillprop link record` and `stillprop link replay`: what a simulator sends into a file, and out of it again.
import { createSocket } from 'node:dgram';
import { closeSync, openSync, writeSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { nowS } from '@stillprop/bridge';
import {
  CAPTURE_FORMAT,
  CAPTURE_VERSION,
  captureLine,
  LARGEST_CAPTURE_BYTES,
  MOST_CAPTURED,
} from '@stillprop/contracts';
import { BadInput, numberOption } from '../badInput.js';
import { readCaptureInput } from '../captureInput.js';
import { hearFor } from '../hearFor.js';
import { type PlaceOptions, placeOf } from '../hearingPlace.js';
import { placeWords } from './linkWords.js';

export interface RecordOptions extends PlaceOptions {
  readonly out: string;
  readonly for: string;
}

export async function linkRecord(options: RecordOptions): Promise<void> {
  const place = placeOf(options);
  const forS = numberOption('--for', options.for, 0.1, 86_400);
  const file = newFile(options.out);
  let bytesWritten = 0;
  let messages = 0;
  const write = (line: string) => {
    bytesWritten += writeSync(file, line);
  };
  const head = { kind: 'capture', format: CAPTURE_FORMAT, version: CAPTURE_VERSION } as const;
  try {
    const startedS = nowS();
    write(captureLine({ ...head, startedAt: new Date().toISOString(), heardOn: placeWords(place) }));
    console.error(`Recording ${placeWords(place)} for ${forS} s; Ctrl+C ends it sooner.`);
    let full = false;
    await hearFor(
      place,
      forS,
      (bytes, sender, receivedS) => {
        if (full) return;
        const line = captureLine({ atS: Math.max(0, receivedS - startedS), sender, bytes });
        // What could not be read back is not written: a byte is a character at most.
        full = bytesWritten + Buffer.byteLength(line) > LARGEST_CAPTURE_BYTES || messages >= MOST_CAPTURED;
        if (full) return;
        write(line);
        messages += 1;
      },
      () => full,
    );
    if (full) console.error('stillprop: the capture is as long as one may be; what came after is not in it');
  } finally {
    closeSync(file);
  }
  process.stdout.write(
    `${messages} messages in ${options.out}. Read it before you send it to anybody: it holds all that came.\n`,
  );
}

/** A capture is never written over. */
function newFile(path: string): number {
  try {
    return openSync(path, 'wx');
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') throw new BadInput(`--out ${path} is there already: name a file that is not`);
    throw new BadInput(`--out ${path} cannot be written (${code ?? message})`);
  }
}

export interface ReplayOptions {
  readonly to: string;
  readonly speed: string;
}

export async function linkReplay(path: string, options: ReplayOptions): Promise<void> {
  const { host, port } = destination(options.to);
  const speed = numberOption('--speed', options.speed, 0.01, 1000);
  const { messages } = readCaptureInput(path);
  const socket = createSocket(host.includes(':') ? 'udp6' : 'udp4');
  const startedS = nowS();
  const firstS = messages[0]?.atS ?? 0;
  try {
    for (const { atS, bytes } of messages) {
      const leftS = (atS - firstS) / speed - (nowS() - startedS);
      if (leftS > 0) await wait(leftS * 1000);
      await new Promise<void>((resolve, reject) =>
        socket.send(bytes, port, host, (error) => {
          if (error === null) resolve();
          else reject(new BadInput(`--to ${options.to} cannot be reached: ${error.message}`));
        }),
      );
    }
  } finally {
    socket.close();
  }
  process.stdout.write(`${messages.length} messages sent to ${host} port ${port}.\n`);
}

function destination(text: string): { readonly host: string; readonly port: number } {
  const [, host, port] = /^\[?(.+?)\]?:(\d{1,5})$/.exec(text) ?? [];
  if (host === undefined || port === undefined) {
    throw new BadInput(`--to must be HOST:PORT such as 127.0.0.1:47200, got "${text}"`);
  }
  return { host, port: numberOption('--to', port, 1, 65_535, true) };
}

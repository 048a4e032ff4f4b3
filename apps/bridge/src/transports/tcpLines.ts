// One TCP connection of a link: lines in, bytes out.
import type { Socket } from 'node:net';
import { plainAddress } from './addresses.js';
import { LineCutter } from './lineCutter.js';
import { MOST_UNSENT_BYTES, type TransportListener } from './transport.js';

/** A computer that was switched off says nothing: the system asks for it after so long. */
const KEEP_ALIVE_MS = 10_000;

/** Reads lines off a connection. @param onLines Told before the lines of a piece go to the listener. */
export function readLines(
  socket: Socket,
  longestLineBytes: number,
  listener: TransportListener,
  onLines: () => void = () => undefined,
): void {
  const sender = plainAddress(socket.remoteAddress);
  const cutter = new LineCutter(longestLineBytes);
  socket.setNoDelay(true);
  socket.setKeepAlive(true, KEEP_ALIVE_MS);
  socket.on('data', (chunk: Buffer) => {
    const { lines, tooLong } = cutter.give(chunk);
    if (lines.length > 0) onLines();
    for (let i = 0; i < tooLong; i += 1) listener.onRefused('line-too-long', sender);
    for (const line of lines) listener.onMessage(line, sender);
  });
}

/** @throws {Error} If the connection is none, or the other side takes nothing. */
export function sendBack(socket: Socket | null, bytes: Uint8Array): void {
  if (socket === null || !socket.writable) throw new Error('no simulator is connected');
  if (socket.writableLength > MOST_UNSENT_BYTES) throw new Error('the simulator is connected but reads nothing');
  socket.write(bytes);
}

// One websocket of a link: messages in, bytes out, and an end to a connection that is dead.
import type { RawData, WebSocket } from 'ws';
import { LARGEST_MESSAGE_BYTES, type MessageKind, MOST_UNSENT_BYTES, type TransportListener } from './transport.js';

/** Beyond this the connection is cut: a message between the two limits is refused and the next one is read. */
export const CUT_OFF_BYTES = 4 * LARGEST_MESSAGE_BYTES;
/** A simulator that loads its world may be silent for some seconds. */
const BEAT_MS = 10_000;

/** Reads messages off a connection until it closes. @param onRead Told before a message goes to the listener. */
export function readMessages(
  socket: WebSocket,
  sender: string,
  listener: TransportListener,
  onRead: () => void = () => undefined,
): void {
  let answered = true;
  const beat = setInterval(() => {
    if (!answered) return socket.terminate(); // the way is dead though nobody said so
    answered = false;
    socket.ping();
  }, BEAT_MS);
  socket.on('pong', () => {
    answered = true;
  });
  socket.on('message', (data: RawData) => {
    answered = true;
    const bytes = bytesOf(data);
    if (bytes.length > LARGEST_MESSAGE_BYTES) return listener.onRefused('too-large', sender);
    onRead();
    listener.onMessage(bytes, sender);
  });
  socket.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'WS_ERR_UNSUPPORTED_MESSAGE_LENGTH') listener.onRefused('too-large', sender);
  });
  socket.on('close', () => clearInterval(beat));
}

/** @throws {Error} If the connection is none, or the other side takes nothing. */
export function sendMessage(socket: WebSocket | null, bytes: Uint8Array, kind: MessageKind): void {
  if (socket === null || socket.readyState !== socket.OPEN) throw new Error('no simulator is connected');
  if (socket.bufferedAmount > MOST_UNSENT_BYTES) throw new Error('the simulator is connected but reads nothing');
  socket.send(bytes, { binary: kind === 'bytes' });
}

function bytesOf(data: RawData): Uint8Array {
  if (Array.isArray(data)) return Buffer.concat(data);
  return data instanceof ArrayBuffer ? new Uint8Array(data) : data;
}

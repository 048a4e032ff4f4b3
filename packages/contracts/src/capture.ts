// A capture: what came from a simulator, message by message with its time, as newline-delimited JSON.
import { z } from 'zod';
import { type Problem, parseJson } from './problem.js';
import { quantity } from './quantities.js';

export const CAPTURE_FORMAT = 'stillprop-capture';
export const CAPTURE_VERSION = 1;
/** A longer message is no sample of a simulator. */
export const LARGEST_MESSAGE_BYTES = 16 * 1024;
/** As much as a reader takes: half an hour of 60 messages a second, 500 bytes each, as text. */
export const LARGEST_CAPTURE_BYTES = 64 * 1024 * 1024;
export const MOST_CAPTURED = 200_000;
/** Text that JSON writes in six characters each, and what stands round it. */
const LONGEST_LINE = 6 * LARGEST_MESSAGE_BYTES + 400;
const LONGEST_BASE64 = Math.ceil(LARGEST_MESSAGE_BYTES / 3) * 4;

export const CaptureHeader = z.strictObject({
  kind: z.literal('capture').describe('First line of the file'),
  format: z.literal(CAPTURE_FORMAT),
  version: z.literal(CAPTURE_VERSION),
  /** ISO 8601, UTC. */
  startedAt: z.iso.datetime('must be a time such as 2026-01-31T09:30:00Z'),
  /** Where it was heard, such as `udp 127.0.0.1 port 47200`. */
  heardOn: z.string('must be text').max(300, 'must be at most 300 characters'),
});
export type CaptureHeader = z.infer<typeof CaptureHeader>;

export const CapturedMessage = z
  .strictObject({
    /** Since the capture began, on a steady clock. */
    atS: quantity(0, 1e7, 's'),
    /** Address of who sent it. */
    sender: z.string('must be text').max(64, 'must be at most 64 characters'),
    text: z.string('must be text').max(LARGEST_MESSAGE_BYTES).optional(),
    base64: z
      .base64('must be bytes in base 64')
      .max(LONGEST_BASE64, `must be at most ${LARGEST_MESSAGE_BYTES} bytes`)
      .optional(),
  })
  .refine(({ text, base64 }) => (text === undefined) !== (base64 === undefined), 'must have either text or base64');

/** A message as it came. */
export interface CapturedDatagram {
  readonly atS: number;
  readonly sender: string;
  readonly bytes: Uint8Array;
}
export interface Capture {
  readonly header: CaptureHeader;
  readonly messages: readonly CapturedDatagram[];
}
export type CaptureRead =
  | { readonly ok: true; readonly capture: Capture }
  | { readonly ok: false; readonly problem: Problem };

/** One line of a capture, with its line break: bytes that are UTF-8 as text, others in base 64. */
export function captureLine(line: CaptureHeader | CapturedDatagram): string {
  if ('kind' in line) return `${JSON.stringify(line)}\n`;
  const { atS, sender, bytes } = line;
  const text = utf8Of(bytes);
  const body = text === null ? { base64: base64Of(bytes) } : { text };
  return `${JSON.stringify({ atS: Math.round(atS * 1e6) / 1e6, sender, ...body })}\n`;
}

/** Reads a whole capture; the first line that is not right is refused with its number. A last line cut short is too. */
export function readCapture(text: string): CaptureRead {
  if (text.length > LARGEST_CAPTURE_BYTES) {
    return refused('the capture', `must be at most ${LARGEST_CAPTURE_BYTES / 1024 / 1024} MB, got more`);
  }
  const lines = text.split('\n');
  if (lines.at(-1) === '') lines.pop();
  if (lines.length > MOST_CAPTURED + 1) {
    return refused('the capture', `must hold at most ${MOST_CAPTURED} messages, got ${lines.length - 1}`);
  }
  const header = parseJson(CaptureHeader, lines[0] ?? '', 'line 1');
  if (!header.ok) return inLine(1, header.problem);
  const messages: CapturedDatagram[] = [];
  let lastS = 0;
  for (const [index, line] of lines.entries()) {
    if (index === 0) continue;
    const name = `line ${index + 1}`;
    if (line.length > LONGEST_LINE)
      return refused(name, `must be at most ${LONGEST_LINE} characters, got ${line.length}`);
    const parsed = parseJson(CapturedMessage, line, name);
    if (!parsed.ok) return inLine(index + 1, parsed.problem);
    const { atS, sender, text: written, base64 } = parsed.value;
    if (atS < lastS) return refused(`${name}: atS`, `must not be before the line above it (${lastS} s), got ${atS}`);
    lastS = atS;
    const bytes = written === undefined ? bytesOf(base64 ?? '') : new TextEncoder().encode(written);
    if (bytes.length > LARGEST_MESSAGE_BYTES) {
      return refused(name, `must be at most ${LARGEST_MESSAGE_BYTES} bytes, got ${bytes.length}`);
    }
    messages.push({ atS, sender, bytes });
  }
  return { ok: true, capture: { header: header.value, messages } };
}

function refused(field: string, rule: string): CaptureRead {
  return { ok: false, problem: { field, message: `${field} ${rule}` } };
}

function inLine(line: number, { field, message }: Problem): CaptureRead {
  const named = message.startsWith('line ') ? message : `line ${line}: ${message}`;
  return { ok: false, problem: { field, message: named } };
}

/** null: not UTF-8, or it would not come back byte for byte. */
function utf8Of(bytes: Uint8Array): string | null {
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
    return text;
  } catch {
    return null;
  }
}

function base64Of(bytes: Uint8Array): string {
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary);
}

function bytesOf(base64: string): Uint8Array {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
}

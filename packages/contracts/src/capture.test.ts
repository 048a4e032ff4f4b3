// Captures come back byte for byte, and a bad line is refused by its number in one sentence.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CaptureHeader, captureLine, LARGEST_MESSAGE_BYTES, readCapture } from './capture.js';

const HEADER: CaptureHeader = {
  kind: 'capture',
  format: 'stillprop-capture',
  version: 1,
  startedAt: '2026-01-31T09:30:00Z',
  heardOn: 'udp 127.0.0.1 port 47200',
};
const head = captureLine(HEADER);

test('any messages come back as they were', () => {
  const message = fc.oneof(
    fc.uint8Array({ maxLength: 300 }),
    fc.string().map((text) => new TextEncoder().encode(text)),
  );
  fc.assert(
    fc.property(fc.array(message, { maxLength: 20 }), (messages) => {
      const text =
        head + messages.map((bytes, at) => captureLine({ atS: at / 20, sender: '127.0.0.1', bytes })).join('');
      const read = readCapture(text);
      if (!read.ok) throw new Error(read.problem.message);
      expect(read.capture.header).toEqual(HEADER);
      expect(read.capture.messages.map(({ bytes }) => [...bytes])).toEqual(messages.map((bytes) => [...bytes]));
      expect(read.capture.messages.map(({ atS }) => atS)).toEqual(messages.map((_, at) => at / 20));
    }),
  );
});

test('text is kept readable, and a mark of byte order is kept', () => {
  const bytes = new TextEncoder().encode('\ufeffSP1,7.5\n');
  expect(captureLine({ atS: 1, sender: '::1', bytes })).toBe('{"atS":1,"sender":"::1","text":"\ufeffSP1,7.5\\n"}\n');
  expect(captureLine({ atS: 1, sender: '::1', bytes: Uint8Array.of(255, 0) })).toContain('"base64":"/wA="');
});

describe('refused in one sentence', () => {
  const good = '{"atS":1,"sender":"127.0.0.1","text":"x"}\n';
  test.each([
    ['nothing', '', /^line 1 is not JSON/],
    ['another file', '{"kind":"header"}\n', /^line 1: kind must be "capture", got "header"$/],
    ['a later version', head.replace('"version":1', '"version":2'), /^line 1: version must be 1, got 2$/],
    ['a line cut short', `${head}${good}{"atS":2,`, /^line 3 is not JSON/],
    ['a number as text', `${head}{"atS":"1","sender":"a","text":""}\n`, /^line 2: atS must be a number of s, got "1"$/],
    ['both kinds of bytes', `${head}{"atS":1,"sender":"a","text":"","base64":""}\n`, /must have either text or base64/],
    ['neither', `${head}{"atS":1,"sender":"a"}\n`, /must have either text or base64/],
    [
      'bytes that are none',
      `${head}{"atS":1,"sender":"a","base64":"%%"}\n`,
      /^line 2: base64 must be bytes in base 64/,
    ],
    ['a time that goes back', `${head}${good}{"atS":0.5,"sender":"a","text":""}\n`, /^line 3: atS must not be before/],
    ['a field too many', `${head}{"atS":1,"sender":"a","text":"","port":1}\n`, /^line 2: port is not a field/],
    [
      'a message too long',
      head + captureLine({ atS: 1, sender: 'a', bytes: new Uint8Array(LARGEST_MESSAGE_BYTES + 1) }),
      /^line 2/,
    ],
  ])('%s', (_, text, message) => {
    const read = readCapture(text);
    if (read.ok) throw new Error('it was read');
    expect(read.problem.message).toMatch(message);
    expect(read.problem.message).not.toContain('\n');
  });

  test('any text is read or refused, without a throw', () => {
    fc.assert(fc.property(fc.string(), (text) => void readCapture(head + text)));
  });
});

// NMEA 0183: datagrams of sentences to messages.
import { coverageOf, gives } from '../standardCoverage.js';
import type { Refusal, StandardDecoded } from '../standards.js';
import { type NmeaMessage, nmeaMessage } from './messages.js';
import { readSentence } from './sentence.js';

/**
 * Reads GGA, RMC and VTG of any talker; other sound sentences are passed over. One sentence a line, each with its
 * checksum. A field that cannot be read is left out and named; the rest of its sentence is kept. Never throws.
 *
 * @see IEC 61162-1, which has the same sentences.
 */
export function decodeNmea0183(datagram: Uint8Array): StandardDecoded<NmeaMessage> {
  const messages: NmeaMessage[] = [];
  const refused: Refusal[] = [];
  let passedOver = 0;
  const lines = asText(datagram)
    .split(/[\r\n]+/)
    .filter((line) => line.trim() !== '');
  if (lines.length === 0) refused.push({ reason: 'empty' });
  for (const line of lines) {
    const sentence = readSentence(line);
    if (typeof sentence === 'string') {
      refused.push({ reason: sentence });
      continue;
    }
    const message = nmeaMessage(sentence, refused);
    if (message === null) passedOver += 1;
    else messages.push(message);
  }
  return { messages, refused, passedOver };
}

const CHUNK = 4096; // arguments a call may safely have

/** One character a byte: the sentences are ASCII, and other bytes must not merge. */
function asText(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += CHUNK) text += String.fromCharCode(...bytes.subarray(at, at + CHUNK));
  return text;
}

const POSITION = ['GGA', 'RMC'] as const;
const VELOCITY = ['RMC', 'VTG'] as const;
const STEPS = 'As fine as the decimals that the sender writes.';

/** What these sentences tell of a flight, and what they cannot. */
export const NMEA0183_COVERAGE = coverageOf({
  timeS: gives(POSITION, 'Time of day in UTC, VTG without; a simulator may tell its own time of day.'),
  latitudeDeg: gives(POSITION, STEPS),
  longitudeDeg: gives(POSITION, STEPS),
  altitudeFt: gives(['GGA'], 'Above mean sea level, often in steps of 0.1 m (0.3 ft) or 1 m (3 ft).'),
  groundspeedKt: gives(VELOCITY, STEPS),
  trackDeg: gives(VELOCITY, STEPS),
});

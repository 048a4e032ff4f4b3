// A line of NMEA 0183 as talker, type and fields, once its checksum fits.
import type { RefusalReason } from '../standards.js';

// IEC 61162-1 allows 82 characters; senders with more decimals go beyond. Common practice, no source.
const LONGEST = 256;
const ADDRESS = /^[A-Z0-9]{3,}$/;
const CHECKSUM = /^[0-9A-F]{2}$/i;

export interface Sentence {
  /** Who speaks: GP, GN, II … */
  readonly talker: string;
  /** What is said: GGA, RMC … */
  readonly type: string;
  /** From the first after the address; '' where empty. */
  readonly fields: readonly string[];
}

/** One line, without its end, or why it is refused. A sentence without a checksum is refused. */
export function readSentence(line: string): Sentence | RefusalReason {
  if (line[0] !== '$' && line[0] !== '!') return 'no-start';
  if (line.length > LONGEST) return 'too-long';
  const star = line.lastIndexOf('*');
  if (star < 0) return 'no-checksum';
  const told = line.slice(star + 1).trimEnd();
  if (!CHECKSUM.test(told)) return told === '' ? 'cut-off' : 'checksum';
  const body = line.slice(1, star);
  let sum = 0;
  for (let index = 0; index < body.length; index += 1) sum ^= body.charCodeAt(index);
  if (sum !== Number.parseInt(told, 16)) return 'checksum';
  const [address = '', ...fields] = body.split(',');
  if (!ADDRESS.test(address)) return 'field';
  return { talker: address.slice(0, -3), type: address.slice(-3), fields };
}

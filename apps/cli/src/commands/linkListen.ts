// `stillprop link listen`: what arrives on a port, and with a profile what it makes of it.
import { createHearing, nowS } from '@stillprop/bridge';
import type { Heard, SeenSlot } from '@stillprop/contracts';
import { createSampleTally, type TallyReport } from '@stillprop/links';
import { numberOption } from '../badInput.js';
import { hearFor } from '../hearFor.js';
import { readLinkPart } from '../linkFiles.js';
import { table, wrap } from '../sheet.js';
import { rangeLines, refusedLines } from './linkWords.js';

export interface ListenOptions {
  readonly port: string;
  readonly host: string;
  readonly for: string;
  readonly profile?: string;
  readonly json?: boolean;
}

export async function linkListen(options: ListenOptions): Promise<void> {
  const place = { host: options.host, port: numberOption('--port', options.port, 1, 65_535, true) };
  const forS = numberOption('--for', options.for, 0.1, 86_400);
  const tally = options.profile === undefined ? null : createSampleTally(readLinkPart(options.profile));
  const hearing = createHearing();
  if (!options.json) {
    console.error(`Listening on ${place.host} port ${place.port} for ${forS} s; Ctrl+C ends it sooner.`);
  }
  await hearFor(place, forS, (bytes, sender, receivedS) => {
    hearing.give(bytes, sender, receivedS);
    tally?.give(bytes, receivedS);
  });
  const heard = hearing.heard(place, nowS());
  const made = tally?.report() ?? null;
  process.stdout.write(options.json ? `${JSON.stringify({ ...heard, made }, null, 2)}\n` : listenText(heard, made));
}

export function listenText(heard: Heard, made: TallyReport | null): string {
  if (heard.received === 0) {
    return [
      ...wrap(`Nothing came to ${heard.host} port ${heard.port}.`),
      ...wrap(
        'See that your simulator sends by UDP, to the address of this computer and this port; from another computer, listen with --host 0.0.0.0 and let the port through the firewall.',
      ),
      '',
    ].join('\n');
  }
  const more = heard.senders > 1 ? `; ${heard.senders} senders in all, give each a port of its own` : '';
  return [
    ...wrap(`${heard.received} messages, ${heard.rateHz} a second, from ${heard.sender}${more}.`),
    ...wrap(`The newest, ${heard.lengthBytes} bytes${heard.isText ? '' : ' in hexadecimal'}:`),
    ...heard.newest
      .trimEnd()
      .split('\n')
      .map((line) => `  ${line}`),
    ...wrap(heard.shape),
    ...(heard.slots.length === 0 ? [] : ['', ...table(heard.slots.map(slotRow))]),
    ...(heard.decoder === null ? [] : ['', 'As a decoder in a link profile:', `  ${JSON.stringify(heard.decoder)}`]),
    ...(made === null ? [] : ['', ...madeLines(made)]),
    '',
  ].join('\n');
}

function slotRow({ slot, newest, lowest, highest, moves, suggestion }: SeenSlot): [string, string] {
  const range = lowest === null || highest === null ? '' : ` (${short(lowest)} to ${short(highest)})`;
  const offered = suggestion === null ? '' : `, perhaps ${suggestion.channel} in ${suggestion.unit}`;
  const value = typeof newest === 'number' ? short(newest) : String(newest ?? 'nothing');
  return [`slot ${slot}`.padEnd(30), `${value}${moves ? range : ' (does not move)'}${offered}`];
}

const short = (value: number) => String(Number(value.toPrecision(7)));

function madeLines(made: TallyReport): string[] {
  const rate = made.rateHz === null ? '' : `, ${made.rateHz.toFixed(1)} a second`;
  return [
    ...wrap(`The profile makes ${made.samples} samples of them${rate}.`),
    ...refusedLines(made),
    ...rangeLines(made),
    ...made.doubts.flatMap((doubt) => wrap(`Doubtful: ${doubt}`, 2)),
  ];
}

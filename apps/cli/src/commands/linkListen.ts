// `stillprop link listen`: what arrives on a port, and with a profile what it makes of it.
import { createHearing, nowS } from '@stillprop/bridge';
import type { Heard, LinkTransport, SeenSlot } from '@stillprop/contracts';
import { createSampleTally, type TallyReport } from '@stillprop/links';
import { numberOption } from '../badInput.js';
import { hearFor } from '../hearFor.js';
import { type PlaceOptions, placeOf } from '../hearingPlace.js';
import { readLinkPart } from '../linkFiles.js';
import { table, wrap } from '../sheet.js';
import { placeWords, rangeLines, refusedLines } from './linkWords.js';

export interface ListenOptions extends PlaceOptions {
  readonly for: string;
  readonly profile?: string;
  readonly json?: boolean;
}

export async function linkListen(options: ListenOptions): Promise<void> {
  const place = placeOf(options);
  const forS = numberOption('--for', options.for, 0.1, 86_400);
  const tally = options.profile === undefined ? null : createSampleTally(readLinkPart(options.profile));
  const hearing = createHearing();
  if (!options.json) {
    console.error(`Hearing ${placeWords(place)} for ${forS} s; Ctrl+C ends it sooner.`);
  }
  const { heardOn, problem } = await hearFor(place, forS, (bytes, sender, receivedS) => {
    hearing.give(bytes, sender, receivedS);
    tally?.give(bytes, receivedS);
  });
  const heard = hearing.heard(heardOn, problem, nowS());
  const made = tally?.report() ?? null;
  process.stdout.write(options.json ? `${JSON.stringify({ ...heard, made }, null, 2)}\n` : listenText(heard, made));
}

const FIREWALL = 'from another computer, listen with --host 0.0.0.0 and let the port through the firewall.';
const ADVICE: Readonly<Record<LinkTransport['kind'], string>> = {
  udp: `See that your simulator sends by UDP, to the address of this computer and this port; ${FIREWALL}`,
  tcpServer: `See that your simulator connects by TCP to the address of this computer and this port, and ends each line; ${FIREWALL}`,
  websocketServer: `See that your simulator connects by websocket to the address of this computer and this port; ${FIREWALL}`,
  tcpClient: 'It is connected, and your simulator sends no line: see that it sends, and ends each line.',
  websocketClient: 'It is connected, and your simulator sends nothing.',
};

const sentence = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

export function listenText(heard: Heard, made: TallyReport | null): string {
  if (heard.received === 0) {
    return [
      ...wrap(`Nothing came: ${placeWords(heard.transport)}.`),
      ...wrap(heard.problem === null ? ADVICE[heard.transport.kind] : `${sentence(heard.problem)}.`),
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
  const name = typeof slot === 'number' ? `column ${slot + 1} (slot ${slot})` : `slot ${slot}`;
  return [name.padEnd(30), `${value}${moves ? range : ' (does not move)'}${offered}`];
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

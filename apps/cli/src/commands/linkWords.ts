// Lines about what a profile makes of a stream, for `link listen` and `link check`.
import type { LinkTransport } from '@stillprop/contracts';
import type { TallyReport } from '@stillprop/links';
import { table, wrap } from '../sheet.js';

/** Where a simulator is heard, to stand after a verb. */
export function placeWords(place: LinkTransport): string {
  switch (place.kind) {
    case 'udp':
      return `UDP on ${place.listenHost} port ${place.listenPort}`;
    case 'tcpServer':
      return `TCP on ${place.listenHost} port ${place.listenPort}`;
    case 'websocketServer':
      return `websockets on ${place.listenHost} port ${place.listenPort}`;
    case 'tcpClient':
      return `TCP from ${place.host} port ${place.port}`;
    case 'websocketClient':
      return `the websocket ${place.url}`;
  }
}

export function refusedLines({ refused }: TallyReport): string[] {
  const reasons = Object.entries(refused);
  if (reasons.length === 0) return wrap('Nothing was refused.');
  return wrap(`Refused: ${reasons.map(([reason, count]) => `${reason} ${count} times`).join(', ')}.`, 2);
}

export function rangeLines({ ranges }: TallyReport): string[] {
  return table(
    ranges.map(({ channel, lowest, highest }) => [channel.padEnd(30), `${short(lowest)} to ${short(highest)}`]),
  );
}

const short = (value: number) => String(Number(value.toPrecision(6)));

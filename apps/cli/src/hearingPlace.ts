// Where a simulator is heard, from the options of a command: a port of this computer, or an address to connect to.
import { LinkTransport, parse } from '@stillprop/contracts';
import { BadInput, numberOption } from './badInput.js';

export interface PlaceOptions {
  readonly port?: string;
  readonly host: string;
  readonly over: string;
  readonly connect?: string;
}

/** @throws {BadInput} */
export function placeOf({ port, host, over, connect }: PlaceOptions): LinkTransport {
  if ((port === undefined) === (connect === undefined)) {
    throw new BadInput(
      'give --port for a simulator that sends or connects to this computer, or --connect ADDRESS for one that is connected to',
    );
  }
  if (connect !== undefined) return connectedTo(connect);
  const kind = KINDS.get(over);
  if (kind === undefined) throw new BadInput(`--over must be one of ${[...KINDS.keys()].join(', ')}, got "${over}"`);
  const listenPort = numberOption('--port', port ?? '', 1, 65_535, true);
  return transportOf({ kind, listenHost: host, listenPort }, '--host');
}

const KINDS = new Map([
  ['udp', 'udp'],
  ['tcp', 'tcpServer'],
  ['websocket', 'websocketServer'],
]);

function connectedTo(address: string): LinkTransport {
  if (/^wss?:/.test(address)) return transportOf({ kind: 'websocketClient', url: address }, '--connect');
  const [, host, port] = /^tcp:\/\/\[?([^\s/]+?)\]?:(\d{1,5})$/.exec(address) ?? [];
  if (host === undefined || port === undefined) {
    throw new BadInput(
      `--connect must be an address such as tcp://127.0.0.1:5000 or ws://127.0.0.1:8080/data, got "${address}"`,
    );
  }
  return transportOf({ kind: 'tcpClient', host, port: numberOption('--connect', port, 1, 65_535, true) }, '--connect');
}

function transportOf(value: unknown, option: string): LinkTransport {
  const parsed = parse(LinkTransport, value, option);
  if (!parsed.ok) throw new BadInput(parsed.problem.message);
  return parsed.value;
}

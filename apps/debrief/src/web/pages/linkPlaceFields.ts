// Where a simulator is to be heard, as a person sets it on the page Link, and the transport that this means.
import { LinkTransport, type Parsed, parse } from '@stillprop/contracts';

export type PlaceKind = LinkTransport['kind'];

/** In the order in which they are offered. */
export const PLACE_WORDS: Readonly<Record<PlaceKind, string>> = {
  udp: 'as UDP datagrams sent to a port here',
  tcpServer: 'as lines by TCP; it connects to a port here',
  websocketServer: 'by websocket; it connects to a port here',
  tcpClient: 'as lines by TCP; Stillprop connects to it',
  websocketClient: 'by websocket; Stillprop connects to it',
};

export interface PlaceFields {
  readonly kind: PlaceKind;
  /** As typed. */
  readonly port: string;
  readonly host: '127.0.0.1' | '0.0.0.0';
  /** Of the simulator, where it is connected to; as typed. */
  readonly address: string;
}

export const FIRST_PLACE: PlaceFields = { kind: 'udp', port: '47200', host: '127.0.0.1', address: '' };

export function isConnectedTo({ kind }: PlaceFields): boolean {
  return kind === 'tcpClient' || kind === 'websocketClient';
}

/** @param base The transport of a link that is changed: what the fields do not set stays, where it is of the same kind. */
export function transportOfFields(fields: PlaceFields, base: LinkTransport | null): Parsed<LinkTransport> {
  const { kind } = fields;
  const kept = base?.kind === kind ? base : { kind };
  const address = fields.address.trim();
  switch (kind) {
    case 'websocketClient':
      return parse(LinkTransport, { ...kept, url: address }, 'the address');
    case 'tcpClient': {
      const [, host, port] = /^\[?([^\s/]+?)\]?:(\d{1,5})$/.exec(address) ?? [];
      if (host === undefined) {
        return problem(
          'address',
          `The address must be a name or address and a port, such as 127.0.0.1:5000, got "${address}"`,
        );
      }
      return parse(LinkTransport, { ...kept, host, port: Number(port) }, 'the address');
    }
    default: {
      const port = Number(fields.port.trim());
      if (!(Number.isInteger(port) && port >= 1 && port <= 65_535)) {
        return problem('port', `The port must be a whole number from 1 to 65535, got "${fields.port}"`);
      }
      return parse(LinkTransport, { ...kept, listenHost: fields.host, listenPort: port }, 'the port');
    }
  }
}

/** The fields that a link's transport fills. */
export function fieldsOf(transport: LinkTransport): PlaceFields {
  switch (transport.kind) {
    case 'websocketClient':
      return { ...FIRST_PLACE, kind: transport.kind, address: transport.url };
    case 'tcpClient': {
      const host = transport.host.includes(':') ? `[${transport.host}]` : transport.host;
      return { ...FIRST_PLACE, kind: transport.kind, address: `${host}:${transport.port}` };
    }
    default:
      return {
        ...FIRST_PLACE,
        kind: transport.kind,
        port: String(transport.listenPort),
        host: transport.listenHost === '127.0.0.1' ? '127.0.0.1' : '0.0.0.0',
      };
  }
}

function problem(field: string, message: string): Parsed<LinkTransport> {
  return { ok: false, problem: { field, message } };
}

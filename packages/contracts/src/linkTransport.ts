// How bytes of a simulator come in: UDP, websocket or TCP lines, in either direction. One message is one datagram,
// one websocket message or one line.
import { z } from 'zod';
import { quantity } from './quantities.js';

/** A port number, for other schemas. */
export const port = z.int('must be a whole number').min(0, 'must be 0 to 65535').max(65_535, 'must be 0 to 65535');
export const host = z.string('must be text').min(1).max(253);
const NO_ADDRESS = 'must be an IP address such as 127.0.0.1';
const address = z.union([z.ipv4(NO_ADDRESS), z.ipv6(NO_ADDRESS)]);

const allowedSenders = z
  .array(address)
  .min(1)
  .default(['127.0.0.1'])
  .describe('IP addresses whose datagrams are read; those of all others are refused and counted');
const listenHost = host
  .default('127.0.0.1')
  .describe(
    'Address of this computer on which Stillprop listens: 127.0.0.1 for a simulator on this computer, 0.0.0.0 for one on another',
  );
/** A line that grows beyond this has no end in sight: it is dropped and counted, up to the next line break. */
const longestLineBytes = quantity(64, 65_536, 'bytes')
  .default(4096)
  .describe('Longest line that is read, without its line break; a longer one is dropped whole and counted');

export const UdpTransport = z.strictObject({
  kind: z.literal('udp').describe('Datagrams: one message each'),
  listenHost: listenHost.describe(
    'Address of this computer on which Stillprop listens: 127.0.0.1 for a simulator on this computer, 0.0.0.0 for one on another ' +
      'and for broadcast, which needs no other setting',
  ),
  listenPort: port.describe('UDP port to which the simulator sends; 0: any free one (for tests)'),
  allowedSenders,
  multicastGroup: address
    .optional()
    .describe('Multicast group to join, such as 239.1.2.3; absent: none. listenHost is then 0.0.0.0'),
  multicastInterface: address
    .optional()
    .describe('Address of the network card on which the group is joined; absent: the one that the system chooses'),
});
export type UdpTransport = z.infer<typeof UdpTransport>;

export const WebsocketClientTransport = z.strictObject({
  kind: z
    .literal('websocketClient')
    .describe('Stillprop connects to the simulator by websocket; a lost connection is made anew, again and again'),
  url: z
    .string('must be text')
    .max(500)
    .regex(
      /^wss?:\/\/[^\s/?#]+([/?][^\s#]*)?$/,
      'must be an address that begins with ws:// or wss://, such as ws://127.0.0.1:8080/data',
    )
    .describe('Address of the simulator, beginning with ws:// or wss://'),
});
export type WebsocketClientTransport = z.infer<typeof WebsocketClientTransport>;

export const WebsocketServerTransport = z.strictObject({
  kind: z.literal('websocketServer').describe('The simulator connects to Stillprop by websocket'),
  listenHost,
  listenPort: port.describe('TCP port to which the simulator connects; 0: any free one (for tests)'),
  path: z
    .string('must be text')
    .max(200)
    .regex(/^\/[^\s?#]*$/, 'must be a path that begins with /, such as /simulator')
    .optional()
    .describe('Path of the address to which it connects; absent: any'),
  allowedSenders: allowedSenders.describe('IP addresses that may connect; those of all others are refused and counted'),
  allowedOrigins: z
    .array(z.string('must be text').regex(/^https?:\/\/[^\s/]+$/, 'must be an origin such as http://127.0.0.1:8080'))
    .default([])
    .describe('Origins of web pages that may connect; a program that is no browser names none and is let in'),
});
export type WebsocketServerTransport = z.infer<typeof WebsocketServerTransport>;

export const TcpClientTransport = z.strictObject({
  kind: z
    .literal('tcpClient')
    .describe('Stillprop connects to the simulator and reads lines; a lost connection is made anew, again and again'),
  host: host.describe('IP address or name of the computer on which the simulator listens'),
  port: port.min(1, 'must be 1 to 65535').describe('TCP port on which the simulator listens'),
  longestLineBytes,
});
export type TcpClientTransport = z.infer<typeof TcpClientTransport>;

export const TcpServerTransport = z.strictObject({
  kind: z.literal('tcpServer').describe('The simulator connects to Stillprop and sends lines'),
  listenHost,
  listenPort: port.describe('TCP port to which the simulator connects; 0: any free one (for tests)'),
  allowedSenders: allowedSenders.describe('IP addresses that may connect; those of all others are refused and counted'),
  longestLineBytes,
});
export type TcpServerTransport = z.infer<typeof TcpServerTransport>;

export const LinkTransport = z.discriminatedUnion('kind', [
  UdpTransport,
  WebsocketClientTransport,
  WebsocketServerTransport,
  TcpClientTransport,
  TcpServerTransport,
]);
export type LinkTransport = z.infer<typeof LinkTransport>;

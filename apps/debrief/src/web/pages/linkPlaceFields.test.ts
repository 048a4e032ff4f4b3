// What a person sets and the transport it means, there and back, and what cannot be meant.
import { LinkTransport } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { FIRST_PLACE, fieldsOf, type PlaceFields, transportOfFields } from './linkPlaceFields.js';

const place = (part: Partial<PlaceFields>): PlaceFields => ({ ...FIRST_PLACE, ...part });

test.each<[Partial<PlaceFields>, object]>([
  [{ port: ' 5000 ' }, { kind: 'udp', listenHost: '127.0.0.1', listenPort: 5000 }],
  [
    { kind: 'tcpServer', host: '0.0.0.0' },
    { kind: 'tcpServer', listenHost: '0.0.0.0', listenPort: 47_200 },
  ],
  [{ kind: 'websocketServer' }, { kind: 'websocketServer', listenPort: 47_200 }],
  [
    { kind: 'tcpClient', address: '10.0.0.7:5000' },
    { kind: 'tcpClient', host: '10.0.0.7', port: 5000 },
  ],
  [
    { kind: 'tcpClient', address: '[::1]:5000' },
    { kind: 'tcpClient', host: '::1', port: 5000 },
  ],
  [
    { kind: 'websocketClient', address: 'ws://sim:80/data' },
    { kind: 'websocketClient', url: 'ws://sim:80/data' },
  ],
])('%j is the transport %j, and back', (part, transport) => {
  const made = transportOfFields(place(part), null);
  if (!made.ok) throw new Error(made.problem.message);
  expect(made.value).toMatchObject(transport);
  expect(transportOfFields(fieldsOf(made.value), null)).toEqual(made);
});

test('what the fields do not set of a link that is changed stays', () => {
  const base = LinkTransport.parse({
    kind: 'udp',
    listenHost: '0.0.0.0',
    listenPort: 1,
    multicastGroup: '239.1.2.3',
    allowedSenders: ['10.0.0.7'],
  });
  const made = transportOfFields({ ...fieldsOf(base), port: '2' }, base);
  expect(made.ok && made.value).toEqual({ ...base, listenPort: 2 });
});

test.each<[Partial<PlaceFields>, RegExp]>([
  [{ port: 'seventy' }, /^The port must be a whole number from 1 to 65535, got "seventy"$/],
  [{ port: '0' }, /^The port must be/],
  [{ kind: 'tcpClient', address: 'somewhere' }, /^The address must be a name or address and a port/],
  [{ kind: 'tcpClient', address: 'sim:99999' }, /65535/],
  [{ kind: 'websocketClient', address: 'http://sim' }, /must be an address that begins with ws:/],
])('%j is refused in words', (part, words) => {
  const made = transportOfFields(place(part), null);
  expect(made.ok ? null : made.problem.message).toMatch(words);
});

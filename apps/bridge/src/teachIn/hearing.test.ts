// What a person is told of messages that no profile describes, over a real socket and by times handed in.
import { BridgeHeard, LinkTransport } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createHearing } from './hearing.js';

const PLACE = LinkTransport.parse({ kind: 'udp', listenPort: 47_200 });
const bytes = (text: string) => new TextEncoder().encode(text);

test('before anything came, it says so', () => {
  expect(createHearing().heard(PLACE, null, 5)).toMatchObject({
    transport: PLACE,
    problem: null,
    received: 0,
    rateHz: 0,
    sender: null,
    quietS: null,
    shape: 'Nothing came yet.',
    decoder: null,
    slots: [],
  });
});

test('rate, sender, newest message, shape and slots of text', () => {
  const hearing = createHearing();
  for (let at = 0; at < 60; at += 1) hearing.give(bytes(`${at};0,5;-1,25`), '127.0.0.1', at / 20);
  const heard = hearing.heard(PLACE, null, 3.5);
  expect(heard).toMatchObject({
    received: 60,
    rateHz: 20,
    sender: '127.0.0.1',
    senders: 1,
    newest: '59;0,5;-1,25',
    isText: true,
  });
  expect(heard.quietS).toBeCloseTo(0.5, 1);
  expect(heard.shape).toBe('It looks like 3 columns between semicolons, with a decimal comma.');
  expect(heard.slots).toMatchObject([
    { slot: 0, newest: 59, lowest: 0, highest: 59, moves: true },
    { slot: 1, newest: 0.5, moves: false },
    { slot: 2, newest: -1.25, moves: false },
  ]);
});

test('bytes that are no text are shown as such', () => {
  const hearing = createHearing();
  hearing.give(Uint8Array.of(0, 255, 16), '::1', 0);
  expect(hearing.heard(PLACE, null, 0)).toMatchObject({
    newest: '00 ff 10',
    isText: false,
    shape: 'No shape was found in it yet.',
  });
});

test('whatever comes, what the pages are told is well formed and short enough to be sent', () => {
  const LONGEST_BYTES = 256 * 1024; // the most that the server takes of a bridge in one message
  const row = fc.array(fc.oneof(fc.double().map(String), fc.string()), { maxLength: 40 });
  const text = fc.oneof(
    fc.string({ maxLength: 300 }),
    fc.json(),
    fc.tuple(row, fc.constantFrom(';', ',', ' ', '\n')).map(([fields, separator]) => fields.join(separator)),
    fc.dictionary(fc.string(), fc.double()).map((object) =>
      Object.entries(object)
        .map((pair) => pair.join('='))
        .join(';'),
    ),
    fc
      .nat({ max: 300 })
      .map((many) =>
        JSON.stringify(Object.fromEntries(Array.from({ length: many }, (_, at) => [`${'k'.repeat(300)}${at}`, at]))),
      ),
  );
  const message = fc.oneof(fc.uint8Array({ maxLength: 200 }), text.map(bytes));
  fc.assert(
    fc.property(fc.array(message, { minLength: 1, maxLength: 20 }), (messages) => {
      const hearing = createHearing();
      for (const [at, one] of messages.entries()) hearing.give(one, '127.0.0.1', at / 20);
      const told = JSON.stringify({ type: 'heard', heard: hearing.heard(PLACE, null, 2) });
      expect(BridgeHeard.safeParse(JSON.parse(told)).error).toBeUndefined();
      expect(bytes(told).length).toBeLessThan(LONGEST_BYTES);
    }),
  );
});

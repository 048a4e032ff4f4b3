// The hub of stations: only the link a command went to may answer it, and an older link has no say any more.
import type { BridgeHello, Heard, LiveState, ServerMessage } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { type BridgeLink, stationHub } from './stationHub.js';

class FakeLink implements BridgeLink {
  readonly sent: ServerMessage[] = [];
  wasReplaced = false;
  constructor(readonly bridge = 'the one bridge') {}
  send(message: ServerMessage) {
    this.sent.push(message);
  }
  replaced() {
    this.wasReplaced = true;
  }
}
const hello = (station: string): BridgeHello => ({ type: 'hello', station, links: [] });
const live = (heightFt: number) => ({ station: 'desk', heightFt, alarm: null as string | null }) as LiveState;
const answerTo = (link: FakeLink, ok = true) => ({
  type: 'answer' as const,
  id: link.sent.at(-1)?.id ?? '',
  ok,
  message: 'Done.',
  attemptId: null,
});

test('an answer counts only from the station that was asked, and only once', async () => {
  const hub = stationHub(() => undefined, 1000);
  const [desk, other] = [new FakeLink(), new FakeLink()];
  hub.join(desk, hello('desk'));
  hub.join(other, hello('other'));
  const asked = hub.ask('desk', { command: 'reset' });
  hub.answer(other, { ...answerTo(desk), message: 'Forged.' });
  hub.answer(desk, answerTo(desk));
  hub.answer(desk, { ...answerTo(desk), message: 'Late.' });
  expect(await asked).toEqual({ message: 'Done.', attemptId: null });
});

test('figures of a link that has been replaced no longer count, nor does its leaving', () => {
  const hub = stationHub(() => undefined, 1000);
  const [older, newer] = [new FakeLink(), new FakeLink()];
  hub.join(older, hello('desk'));
  hub.join(newer, hello('desk'));
  expect([older.wasReplaced, newer.wasReplaced]).toEqual([true, false]);
  hub.live(newer, live(500));
  hub.live(older, live(111));
  hub.leave(older);
  expect(hub.stations()).toMatchObject([{ station: 'desk', connected: true, live: { heightFt: 500 } }]);
});

test('a command under way fails when its link is replaced', async () => {
  const hub = stationHub(() => undefined, 1000);
  hub.join(new FakeLink(), hello('desk'));
  const asked = hub.ask('desk', { command: 'reset' });
  hub.join(new FakeLink(), hello('desk'));
  await expect(asked).rejects.toMatchObject({
    code: 'STATION_LEFT',
    message: 'station desk connected anew before it answered',
  });
});

test('the name of a station that is there is not given to another bridge, and its own page says that one asked', () => {
  const hub = stationHub(() => undefined, 1000);
  const [holder, other] = [new FakeLink('first'), new FakeLink('second')];
  hub.join(holder, hello('desk'));
  hub.live(holder, live(500));
  expect(hub.join(other, hello('desk'))).toEqual({
    kind: 'name-taken',
    message: 'another bridge is connected as station "desk": give each a name of its own',
  });
  hub.leave(other);
  hub.live(other, live(111));
  expect(holder.wasReplaced).toBe(false);
  expect(hub.stations()).toMatchObject([
    {
      station: 'desk',
      connected: true,
      live: { heightFt: 500, alarm: expect.stringContaining('Another bridge asked for the name of this station') },
    },
  ]);
});

test('a name is free again when its holder has left', () => {
  const hub = stationHub(() => undefined, 1000);
  const [holder, other] = [new FakeLink('first'), new FakeLink('second')];
  hub.join(holder, hello('desk'));
  hub.join(other, hello('desk'));
  hub.leave(holder);
  expect(hub.join(other, hello('desk'))).toBeUndefined();
  hub.live(other, live(222));
  expect(hub.stations()[0]?.live).toMatchObject({ heightFt: 222 });
  expect(hub.stations()[0]?.live?.alarm).toBeNull();
});

test('a hello told again on the same link keeps its figures', () => {
  const hub = stationHub(() => undefined, 1000);
  const link = new FakeLink();
  hub.join(link, hello('desk'));
  hub.live(link, live(500));
  hub.join(link, hello('desk'));
  expect(link.wasReplaced).toBe(false);
  expect(hub.stations()[0]?.live?.heightFt).toBe(500);
});

test('stations are bounded: one that is away makes room, and none that is there has to', () => {
  const hub = stationHub(() => undefined, 1000);
  const links = Array.from({ length: 64 }, (_, index) => {
    const link = new FakeLink();
    expect(hub.join(link, hello(`station ${index}`))).toBeUndefined();
    return link;
  });
  expect(hub.join(new FakeLink(), hello('one more'))).toEqual({
    kind: 'full',
    message: 'this server takes 64 stations at most',
  });
  hub.leave(links[7] as FakeLink);
  expect(hub.join(new FakeLink(), hello('one more'))).toBeUndefined();
  const names = hub.stations().map((station) => station.station);
  expect([names.length, names.includes('station 7'), names.includes('one more')]).toEqual([64, false, true]);
});

test('what a station hears is shown while it listens, through a second hello, and no longer than it is connected', () => {
  const hub = stationHub(() => undefined, 1000);
  const desk = new FakeLink();
  hub.join(desk, hello('desk'));
  expect(hub.stations()[0]).not.toHaveProperty('heard');
  const heard = { problem: null, received: 3 } as Heard;
  hub.heard(desk, heard);
  hub.join(desk, hello('desk'));
  expect(hub.stations()).toMatchObject([{ station: 'desk', heard }]);
  hub.heard(new FakeLink(), { ...heard, received: 9 });
  expect(hub.stations()).toMatchObject([{ heard: { received: 3 } }]);
  hub.heard(desk, null);
  expect(hub.stations()[0]).not.toHaveProperty('heard');
  hub.heard(desk, heard);
  hub.leave(desk);
  expect(hub.stations()[0]).not.toHaveProperty('heard');
});

import { afterEach, expect, test, vi } from 'vitest';
import { ApiFailure, getAttempts, getScenarios, readBrowserMessage, sendCommand } from './api.js';

afterEach(() => vi.unstubAllGlobals());

function serverAnswers(status: number, body: string) {
  const fetched = vi.fn(async (_path: string, _init?: RequestInit) => new Response(body, { status }));
  vi.stubGlobal('fetch', fetched);
  return fetched;
}
const failureOf = async (call: Promise<unknown>) => {
  const error = await call.then(
    () => undefined,
    (caught: unknown) => caught,
  );
  expect(error).toBeInstanceOf(ApiFailure);
  return error as ApiFailure;
};

test('a good answer becomes typed data', async () => {
  const scenario = { id: 'first', revision: 1, name: 'First', briefing: '', aircraftName: 'A', runwayName: '24' };
  serverAnswers(200, JSON.stringify([scenario]));
  expect(await getScenarios()).toEqual([scenario]);
});

test('an answer that breaks the contract is refused by field, and never shown half', async () => {
  serverAnswers(200, JSON.stringify({ attempts: [], total: 'three', next: null }));
  const failure = await failureOf(getAttempts(20, null));
  expect(failure.kind).toBe('unreadable');
  expect(failure.message).toContain('total');
});

test("the reason of a refusal is the server's own sentence", async () => {
  serverAnswers(409, JSON.stringify({ code: 'STATION_BUSY', message: 'station one is flying' }));
  expect(await failureOf(sendCommand('one', { command: 'stop' }))).toMatchObject({
    kind: 'refused',
    message: 'station one is flying',
  });
  serverAnswers(404, JSON.stringify({ code: 'NONE', message: 'no such station' }));
  expect((await failureOf(sendCommand('one', { command: 'stop' }))).kind).toBe('missing');
});

test('an answer that is no JSON, or none at all, is an unreachable server', async () => {
  serverAnswers(502, '<html>');
  expect((await failureOf(getScenarios())).kind).toBe('unreachable');
  vi.stubGlobal('fetch', async () => Promise.reject(new TypeError('refused')));
  expect((await failureOf(getScenarios())).kind).toBe('unreachable');
});

test('names in addresses are escaped', async () => {
  const fetched = serverAnswers(200, JSON.stringify({ message: 'done', attemptId: null }));
  await sendCommand('lab/1 ?', { command: 'stop' });
  expect(fetched.mock.calls[0]?.[0]).toBe('/api/stations/lab%2F1%20%3F/commands');
});

test.each(['{', '[]', '{"type":"other"}', '{"type":"stations"}', 7, null])('the feed passes over %s', (data) => {
  expect(readBrowserMessage(data)).toBeNull();
});
test('the feed reads a message of ours', () => {
  expect(readBrowserMessage('{"type":"attempt-scored","attemptId":"a"}')).toEqual({
    type: 'attempt-scored',
    attemptId: 'a',
  });
});

import { EventEmitter } from 'node:events';
import type { ServerResponse } from 'node:http';
import { expect, test } from 'vitest';
import { afterAnswer } from './afterAnswer.js';

function reply(destroyed: boolean) {
  const raw = Object.assign(new EventEmitter(), { destroyed });
  return { raw: raw as unknown as ServerResponse, close: () => raw.emit('close') };
}

test('the work begins when the answer is out, once', () => {
  let times = 0;
  const { raw, close } = reply(false);
  afterAnswer({ raw }, () => {
    times += 1;
  });
  expect(times).toBe(0);
  close();
  close();
  expect(times).toBe(1);
});

test('it begins at once where the asker has left already', () => {
  let times = 0;
  afterAnswer({ raw: reply(true).raw }, () => {
    times += 1;
  });
  expect(times).toBe(1);
});

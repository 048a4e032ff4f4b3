import { expect, test } from 'vitest';
import { faultyWire, NO_FAULTS, type WireFaults } from './faultyWire.js';

function passed(faults: Partial<WireFaults>, count = 2000): number[] {
  const out: number[] = [];
  const send = faultyWire({ ...NO_FAULTS, ...faults }, 7, (datagram) =>
    out.push(new DataView(datagram.buffer).getUint16(0)),
  );
  for (let index = 0; index < count; index += 1) {
    const datagram = new Uint8Array(2);
    new DataView(datagram.buffer).setUint16(0, index);
    send(datagram);
  }
  return out;
}

test('without faults every datagram passes once, in order', () => {
  expect(passed({})).toEqual(Array.from({ length: 2000 }, (_, index) => index));
});

test('five in a hundred are lost when that is asked for', () => {
  const out = passed({ drop: 0.05 });
  // 2000 draws at 5 %: mean 100, standard deviation 9.7; four of them either way.
  expect(2000 - out.length).toBeGreaterThan(60);
  expect(2000 - out.length).toBeLessThan(140);
  expect(out).toEqual([...out].sort((a, b) => a - b));
});

test('doubled datagrams come right behind each other', () => {
  const out = passed({ duplicate: 0.1 });
  const doubles = out.filter((value, index) => out[index - 1] === value).length;
  expect(doubles).toBeGreaterThan(140);
  expect(out.length).toBe(2000 + doubles);
});

test('swapped datagrams all arrive, each but one place late', () => {
  const out = passed({ reorder: 0.1 });
  expect(new Set(out).size).toBeGreaterThanOrEqual(1999);
  const late = out.filter((value, index) => (out[index - 1] ?? -1) > value).length;
  expect(late).toBeGreaterThan(100);
});

test('the same seed gives the same faults', () => {
  expect(passed({ drop: 0.2, reorder: 0.2, duplicate: 0.2 })).toEqual(
    passed({ drop: 0.2, reorder: 0.2, duplicate: 0.2 }),
  );
});

// `stillprop aircraft` as a program, and the doubts it shares with `fly` and `plan`.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ROOT, stillprop } from '../support/command.js';

const turnstone = join(ROOT, 'fixtures/aircraft/turnstone.json');
const reference = () => JSON.parse(readFileSync(join(ROOT, 'fixtures/requests/reference-1000ft.json'), 'utf8'));

/** Best glide below the stall in a 45° turn: accepted, and doubted. */
const doubtful = () => {
  const request = reference();
  request.aircraft.bestGlideKcas = 70;
  return JSON.stringify({ ...request, plan: { draws: 0, fromFt: 600, toFt: 700 } });
};

test('figures with unit and origin, for a program and for a person', async () => {
  const { code, out } = await stillprop(['aircraft', turnstone, '--json']);
  expect(code).toBe(0);
  const { figures, warnings } = JSON.parse(out);
  expect(warnings).toEqual([]);
  const leastSink = figures.find(({ key }: { key: string }) => key === 'leastSinkSpeed');
  // 3^(-1/4) of the handbook's 105 kt.
  expect(leastSink).toMatchObject({ unit: 'kt', from: ['bestGlideKcas', 'massKg'] });
  expect(leastSink.value).toBeCloseTo(79.8, 1);
  const person = await stillprop(['aircraft', turnstone]);
  expect(person.out).toMatch(/Speed of least sink +79\.8 kt/);
});

test('doubts are told by aircraft, fly and plan alike, and never among comma-separated values', async () => {
  const doubt = /aircraft\.bestGlideKcas.*below the stall in a turn at 45°/s;
  for (const command of ['aircraft', 'fly', 'plan']) {
    const told = await stillprop([command, '-'], doubtful());
    expect(told.code, told.err).toBe(0);
    expect(told.out.replaceAll(/\s+/g, ' ')).toMatch(doubt);
    const data = JSON.parse((await stillprop([command, '-', '--json'], doubtful())).out);
    expect(data.warnings.map(({ field }: { field: string }) => field)).toContain('aircraft.bestGlideKcas');
    expect(data.warnings[0].message).not.toBe('');
    if (command === 'aircraft') continue;
    const values = await stillprop([command, '-', '--csv'], doubtful());
    expect(values.out).not.toContain('bestGlideKcas');
    expect(values.err).toMatch(doubt);
  }
});

test.each([
  [
    'a negative mass',
    JSON.stringify({ ...reference().aircraft, massKg: -1 }),
    /massKg must be 100 to 10000 kg, got -1/,
  ],
  ['no aeroplane at all', '{}', /name is missing/],
  ['a list', '[]', /must be an object, got \[\]/],
  ['nothing', '', /the input is not JSON/],
])('%s is refused in one line', async (_, input, sentence) => {
  const { code, out, err } = await stillprop(['aircraft', '-'], input);
  expect([code, out]).toEqual([2, '']);
  expect(err).toMatch(sentence);
  expect(err.trim().split('\n')).toHaveLength(1);
});

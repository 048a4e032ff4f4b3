import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Weather } from '@stillprop/contracts';
import { afterAll, expect, test } from 'vitest';
import { BadInput, numberOption, readInput, readJsonInput } from './badInput.js';

const dir = mkdtempSync(join(tmpdir(), 'stillprop-cli-'));
afterAll(() => rmSync(dir, { recursive: true }));
const file = (name: string, text: string) => {
  writeFileSync(join(dir, name), text);
  return join(dir, name);
};

test.each([
  ['7', 7],
  ['0', 0],
  [' 10 ', 10],
])('the option "%s" is the number %d', (text, value) => {
  expect(numberOption('--port', text, 0, 10, true)).toBe(value);
});

test.each(['', '  ', 'ten', '-1', '11', '1.5', 'NaN', 'Infinity'])(
  'the option "%s" is refused by name and range',
  (text) => {
    expect(() => numberOption('--port', text, 0, 10, true)).toThrow(
      `--port must be a whole number from 0 to 10, got "${text}"`,
    );
    expect(() => numberOption('--port', text, 0, 10, true)).toThrow(BadInput);
  },
);

test('a missing file and a folder are refused by name', () => {
  expect(() => readInput(join(dir, 'none'))).toThrow(`${join(dir, 'none')}: there is no such file`);
  expect(() => readInput(dir)).toThrow(`${dir} is a folder, not a file`);
});

test('a file is read as typed data, or refused with field, value and what would be right', () => {
  expect(readJsonInput(Weather, file('ok.json', '{"temperatureC":-4}'))).toEqual({
    temperatureC: -4,
    qnhHpa: 1013.25,
    winds: [],
  });
  expect(() => readJsonInput(Weather, file('hot.json', '{"temperatureC":400}'))).toThrow(
    'temperatureC must be -60 to 60 °C, got 400',
  );
  expect(() => readJsonInput(Weather, file('text.json', 'warm'))).toThrow(/text\.json is not JSON/);
});

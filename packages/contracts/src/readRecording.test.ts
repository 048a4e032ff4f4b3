import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readRecording, type Sample } from './index.js';
import { recordingLines } from './recordingLines.fixture.js';

const [header, ...body] = recordingLines();
const whole = [header, ...body].join('');
const problemOf = (text: string) => {
  const read = readRecording(text);
  return read.ok ? 'read' : read.problem.message;
};

test('a whole recording is read, its samples and events in order', () => {
  const read = readRecording(whole);
  if (!read.ok) throw new Error(read.problem.message);
  expect(read.recording.samples.map((sample: Sample) => sample.timeS)).toEqual([0, 0.05, 0.1]);
  expect(read.recording.events.map((event) => event.code)).toEqual(['armed']);
  expect(read.recording.end).toMatchObject({ reason: 'stopped', samples: 3 });
});

test('cut off anywhere after the header, it is read up to its last whole line', () => {
  const headerLength = (header as string).length;
  fc.assert(
    fc.property(fc.integer({ min: headerLength, max: whole.length - 1 }), (cut) => {
      const text = whole.slice(0, cut);
      const read = readRecording(text);
      if (!read.ok) throw new Error(read.problem.message);
      const lines = text.split('\n').length - 2;
      expect(read.recording.samples.length + read.recording.events.length).toBe(lines);
      expect(read.recording.end).toBeNull();
    }),
  );
});

test.each([
  ['', 'the recording holds no whole line'],
  ['hello\n', 'line 1 is no header of a stillprop-recording'],
  ['{"format":"something"}\n', 'line 1 is no header of a stillprop-recording'],
  [`${header}{"kind":"sample","timeS":-1}\n`, /^line 2: timeS must be 0 to 1000000000 s, got -1$/],
  [`${header}{"kind":"song"}\n`, /^line 2: kind/],
  [`${header}${header}`, 'line 2 is a second header'],
  [`${whole}${body[0]}`, 'line 7 comes after the end of the recording'],
  [`${(header as string).replace('"version":1', '"version":2')}`, /^line 1: version must be 1, got 2$/],
])('a wrong text is refused with the line it is in', (text, sentence) => {
  if (typeof sentence === 'string') expect(problemOf(text)).toBe(sentence);
  else expect(problemOf(text)).toMatch(sentence);
});

test('no text makes it throw', () => {
  fc.assert(fc.property(fc.string(), (text) => typeof readRecording(`${header}${text}`).ok === 'boolean'));
});

test('what was merged, derived, timed by arrival or made by hand stays with the recording, and odd values are refused', () => {
  const withMore = (more: object, event: object) => {
    const first = { ...JSON.parse(header as string), ...more };
    const told = { kind: 'event', timeS: 1, code: 'fail-commanded', text: 'Told.', ...event };
    return `${JSON.stringify(first)}\n${JSON.stringify(told)}\n`;
  };
  const more = { links: ['lead', 'second'], derived: ['headingDeg'], timeSource: 'arrival' };
  const read = readRecording(withMore(more, { means: 'by-hand' }));
  if (!read.ok) throw new Error(read.problem.message);
  expect(read.recording.header).toMatchObject(more);
  expect(read.recording.events[0]?.means).toBe('by-hand');
  expect(problemOf(withMore({ derived: ['colour'] }, {}))).toMatch(/derived\[0\]/);
  expect(problemOf(withMore({}, { means: 'magic' }))).toMatch(/means must be "command" or "cut-throttle" or "by-hand"/);
});

test('a hundred million line feeds are no recording, and take no array of as many lines', () => {
  expect(problemOf('\n'.repeat(1.5e8))).toBe('the recording holds no whole line');
});

test('a line too long to be one is refused before it is parsed', () => {
  const brackets = `${'['.repeat(1_100_000)}${']'.repeat(1_100_000)}\n`;
  expect(problemOf(brackets)).toBe('line 1 is no header of a stillprop-recording');
  expect(problemOf(`${header}\n${brackets}`)).toBe('line 3 is longer than a line can be');
});

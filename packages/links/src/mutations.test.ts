// Whatever bytes come, a decoder neither throws nor hangs, and gives nothing but finite values within their bounds.
import { CHANNEL_BOUNDS, type LinkProfile, SAMPLE_CHANNELS } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createPartDecoder } from './decode.js';
import { encodeRow } from './encoders.fixture.js';
import { anySample, fixtureProfile } from './links.fixture.js';
import { MUTATIONS, mutatedMessages } from './mutations.fixture.js';
import { standInJson, standInText } from './standIn.js';

const CHANNELS = new Set<string>(SAMPLE_CHANNELS);
const values = (profile: LinkProfile, at: number) =>
  Object.fromEntries(
    SAMPLE_CHANNELS.flatMap((channel, index) => {
      const slot = profile.channels[channel]?.slot;
      return slot === undefined ? [] : [[String(slot), (index + at) / 40]];
    }),
  );
const rows = (profile: LinkProfile) => [0, 1, 2].map((at) => encodeRow(profile, values(profile, at)));
const header = fixtureProfile('example-header-line');
const headed = () => {
  const names = Object.keys(values(header, 0));
  return [new TextEncoder().encode(`${names.join('\t')}\n`), ...rows(header)];
};
const samples = fc.sample(anySample, 4);

test.each<[string, readonly Uint8Array[]]>([
  ['stand-in-text', samples.map(standInText)],
  ['stand-in-json', samples.map(standInJson)],
  ['example-key-value', rows(fixtureProfile('example-key-value'))],
  ['example-binary-records', rows(fixtureProfile('example-binary-records'))],
  ['example-header-line', headed()],
  ['example-tcp-lines', rows(fixtureProfile('example-tcp-lines'))],
])('%s', { timeout: 300_000 }, (name, originals) => {
  const decode = createPartDecoder(fixtureProfile(name), { wind: { fromTrueDeg: 240, speedKt: 10 } });
  let read = 0;
  let arrivalTimeS = 0;
  for (const message of mutatedMessages(originals)) {
    arrivalTimeS += 0.05;
    const decoded = decode(message, arrivalTimeS);
    if (!decoded.ok) continue;
    for (const sample of decoded.samples) {
      read += 1;
      for (const [channel, value] of Object.entries(sample)) {
        const [low, high] = CHANNEL_BOUNDS[channel as keyof typeof CHANNEL_BOUNDS];
        const right = typeof value === 'boolean' || (typeof value === 'number' && value >= low && value <= high);
        // Said only where it matters: an expectation for each of millions of values would be most of the time.
        if (!right || !CHANNELS.has(channel)) expect({ message: [...message], channel, value }).toBeUndefined();
      }
      if (Object.getPrototypeOf(sample) !== Object.prototype) expect([...message]).toBeUndefined();
    }
  }
  // Mutations mild enough that much is still read, and strong enough that much is not.
  expect(read).toBeGreaterThan(MUTATIONS / 20);
  expect({}).not.toHaveProperty('timeS');
});

// Several aeroplanes on one wire, through the ready profile for IEEE 1278.1: one is followed, the others never mix in.
import { expect, test } from 'vitest';
import { createPartDecoder } from '../decode.js';
import { fixtureProfile } from '../links.fixture.js';
import { earthFixed, encoded } from './openDis.fixture.js';

const profile = fixtureProfile('standard-entity-state');
const at = (entity: number, latitudeDeg: number, timestamp: number) =>
  encoded({
    version: 7,
    ids: [1, 2, 3, entity],
    timestamp,
    location: earthFixed(latitudeDeg, 138.5, 300),
    velocity: { x: 30, y: 30, z: 0 },
    orientation: [0, 0, 0],
    deadReckoning: 2,
    marking: 'INVENTED',
  });
const latitudes = (decoder: typeof profile.decoder) => {
  const decode = createPartDecoder({ ...profile, decoder });
  return [at(4, -34, 2000), at(5, 50, 4000), at(4, -33, 6000)].map((datagram, index) => {
    const decoded = decode(datagram, index);
    return decoded.ok ? decoded.samples.map(({ latitudeDeg }) => Math.round(latitudeDeg ?? Number.NaN)) : decoded.code;
  });
};

test('the first that is heard is followed, and another is no sample', () => {
  expect(latitudes({ kind: 'entityState' })).toEqual([[-34], 'no-sample', [-33]]);
});

test('the one that the profile names is followed, whoever is heard first', () => {
  const entity = { site: 2, application: 3, entity: 5 };
  expect(latitudes({ kind: 'entityState', entity })).toEqual(['no-sample', [50], 'no-sample']);
});

test('a sender whose clock stands still is heard all the same, once that is plain', () => {
  const decode = createPartDecoder(profile);
  const samples = [-34, -33, -32, -31].flatMap((latitudeDeg, index) => {
    const decoded = decode(at(4, latitudeDeg, 2000), index);
    return decoded.ok ? decoded.samples : [];
  });
  expect(samples.map(({ latitudeDeg }) => Math.round(latitudeDeg ?? Number.NaN))).toEqual([-34, -32, -31]);
});

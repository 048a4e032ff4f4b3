// Track logs handed over by the page: kept as recordings, the same one once, and refused in one sentence.
import { fromRunwayFrame, isPlaced, readRecording, TrackImportAnswer } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { catalogue, testApp } from '../attempt.fixture.js';

let own: Awaited<ReturnType<typeof testApp>>;
beforeEach(async () => {
  own = await testApp();
});
afterEach(() => own.close());

/** GPX of a climb to 1,000 ft along the runway, and down again. */
function gpx(): string {
  const runway = catalogue.runways.get(catalogue.scenarios.get('first-turn-back')?.runwayId ?? '');
  if (runway === undefined || !isPlaced(runway)) throw new Error('needs a runway with a position');
  const points = Array.from({ length: 130 }, (_, s) => {
    const { latitudeDeg, longitudeDeg } = fromRunwayFrame(runway, { alongFt: 150 * Math.max(s - 5, 0), acrossFt: 0 });
    const heightFt = s < 15 ? 0 : s < 65 ? 20 * (s - 15) : Math.max(1000 - 20 * (s - 65), 0);
    const time = new Date(Date.UTC(2026, 0, 31, 9, 30, s)).toISOString();
    return `<trkpt lat="${latitudeDeg}" lon="${longitudeDeg}"><ele>${(runway.elevationFt + heightFt) * 0.3048}</ele><time>${time}</time></trkpt>`;
  });
  return `<gpx version="1.1"><trk><trkseg>${points.join('')}</trkseg></trk></gpx>`;
}
const send = (payload: object) => own.app.inject({ method: 'POST', url: '/api/imports', payload });
const request = () => ({ log: gpx(), scenarioId: 'first-turn-back', student: 'Ines Vale', failedAt: '65' });

test('a log becomes an attempt, once however often it is sent, and is scored', async () => {
  const first = await send(request());
  expect(first.statusCode).toBe(201);
  const { attemptId, already, notes } = TrackImportAnswer.parse(first.json());
  expect(already).toBe(false);
  expect(notes.join(' ')).toContain('groundspeed is not airspeed');
  const again = await send(request());
  expect([again.statusCode, again.json()]).toEqual([200, { attemptId, already: true, notes }]);
  await expect.poll(() => own.scored).toEqual([attemptId]);
  const kept = readRecording(new TextDecoder().decode(await own.store.recordingBytes(attemptId)));
  expect(kept.ok && kept.recording.header.student).toBe('Ines Vale');
  expect(kept.ok && kept.recording.events).toEqual([expect.objectContaining({ code: 'fail-now', timeS: 65 })]);
});

test.each([
  [{ log: 'nothing of the kind' }, 'IMPORT_REFUSED', /^the track log is neither GPX, IGC nor NMEA/],
  [{ failedAt: 'soon' }, 'IMPORT_REFUSED', /^failedAt must be seconds from the log's start/],
  [{ failedAt: '900' }, 'IMPORT_REFUSED', /^failedAtS must be from 0 to 129 s/],
  [{ scenarioId: 'none-such' }, 'SCENARIO_UNKNOWN', /none-such/],
  [{ log: '' }, 'BAD_REQUEST', /^log must not be empty/],
  [{ startedAt: 'yesterday' }, 'BAD_REQUEST', /^startedAt must be a date and time/],
])('%j is refused with one sentence, and nothing is kept', async (change, code, message) => {
  const answer = await send({ ...request(), ...change });
  expect([answer.statusCode, answer.json()]).toEqual([400, { code, message: expect.stringMatching(message) }]);
  expect((await own.store.list({ limit: 10 })).total).toBe(0);
});

test("another site's page cannot hand one over", async () => {
  const answer = await own.app.inject({
    method: 'POST',
    url: '/api/imports',
    payload: request(),
    headers: { origin: 'http://elsewhere.test' },
  });
  expect(answer.json().code).toBe('FORBIDDEN_ORIGIN');
});

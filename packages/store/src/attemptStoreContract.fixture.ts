// What every store of attempts must do, whatever the database under it: one suite, run over each.
import { createHash, randomUUID } from 'node:crypto';
import { AttemptSummary, type Score } from '@stillprop/contracts';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { AttemptStore } from './index.js';
import { type RecordingChoices, recordingText, scoreFor } from './recording.fixture.js';

export interface StoreUnderTest {
  readonly store: AttemptStore;
  /** The same store opened anew, as after a restart. */
  reopen(): Promise<AttemptStore>;
  /** Closes it and takes away all it left. */
  dispose(): Promise<void>;
}

const ID = '3f0c5a52-7a0e-4d0b-9d5e-0a4b6f1c2d3e';
const bytesOf = (text: string) => new TextEncoder().encode(text);
const hashOf = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

export function attemptStoreContract(name: string, make: () => Promise<StoreUnderTest>): void {
  describe(`attempts on ${name}`, () => {
    let under: StoreUnderTest;
    let store: AttemptStore;
    beforeEach(async () => {
      under = await make();
      store = under.store;
    });
    afterEach(() => under.dispose());

    const receiveText = (text: string) => store.receive(bytesOf(text), hashOf(bytesOf(text)));
    const receive = (choices: RecordingChoices) => receiveText(recordingText(choices));
    const kept = async (attemptId: string) => new TextDecoder().decode(await store.recordingBytes(attemptId));
    const shaOf = async (attemptId: string) => (await store.get(attemptId))?.row.sha256 ?? '';

    test('a received recording is kept byte for byte and listed unscored', async () => {
      const text = recordingText({ attemptId: ID, student: 'Ínes Väle', samples: 7 });
      expect(await receiveText(text)).toEqual({
        ok: true,
        attemptId: ID,
        sha256: hashOf(bytesOf(text)),
        already: false,
      });
      expect(await kept(ID)).toBe(text);
      const { attempts, total, next } = await store.list({ limit: 10 });
      expect({ total, next }).toEqual({ total: 1, next: null });
      expect(attempts).toEqual([
        {
          attemptId: ID,
          startedAt: '2026-03-01T10:00:00.000Z',
          station: 'desk',
          student: 'Ínes Väle',
          scenarioId: 'first-turn-back',
          scenarioRevision: 1,
          scenarioName: 'Turn back from 1,000 ft',
          aircraftName: expect.any(String),
          runwayName: expect.any(String),
          rubricId: 'standard',
          rubricRevision: expect.any(Number),
          complete: true,
          samples: 7,
          sha256: hashOf(bytesOf(text)),
          engineRevision: null,
          failureHeightFt: null,
          outcome: null,
          overall: null,
          delayScore: null,
          bankScore: null,
          airspeedScore: null,
          touchdownScore: null,
          delayS: null,
          bankDeg: null,
          airspeedKt: null,
          touchdownFt: null,
          costFt: null,
          problem: null,
        },
      ]);
    });

    test('the same recording again is acknowledged again and changes nothing', async () => {
      const text = recordingText({ attemptId: ID });
      await receiveText(text);
      await store.saveScore(ID, await shaOf(ID), scoreFor(ID));
      expect(await receiveText(text)).toMatchObject({ ok: true, already: true });
      expect((await store.list({ limit: 10 })).total).toBe(1);
      expect((await store.get(ID))?.score?.overall).toBe(71);
    });

    test('one recording sent ten times at once arrives once', async () => {
      const all = await Promise.all(Array.from({ length: 10 }, () => receive({ attemptId: ID })));
      expect(all.filter((one) => one.ok && !one.already).length).toBe(1);
      expect(all.filter((one) => one.ok && one.already).length).toBe(9);
      expect((await store.list({ limit: 10 })).total).toBe(1);
    });

    test('an id in capitals is the same attempt', async () => {
      await receive({ attemptId: ID });
      expect(await receive({ attemptId: ID.toUpperCase() })).toMatchObject({ ok: false, code: 'other-recording-kept' });
      expect((await store.get(ID.toUpperCase()))?.row.attemptId).toBe(ID);
    });

    test('another recording under a kept id is refused and the kept one stays', async () => {
      const text = recordingText({ attemptId: ID });
      await receiveText(text);
      await store.saveScore(ID, await shaOf(ID), scoreFor(ID));
      const refused = await receive({ attemptId: ID, samples: 9 });
      expect(refused).toMatchObject({ ok: false, code: 'other-recording-kept' });
      expect(await kept(ID)).toBe(text);
      expect((await store.get(ID))?.score?.overall).toBe(71);
    });

    test('a finished recording is not replaced by one that adds to it', async () => {
      const text = recordingText({ attemptId: ID });
      await receiveText(text);
      expect(await receiveText(`${text}\n\n`)).toMatchObject({ ok: false, code: 'other-recording-kept' });
      expect(await kept(ID)).toBe(text);
    });

    test.each([
      ['without an end', null],
      ['closed as interrupted', 'interrupted'],
    ] as const)('a recording that broke off, %s, is replaced by one that goes on from there', async (_, end) => {
      await receive({ attemptId: ID, samples: 3, end });
      await store.saveScore(ID, await shaOf(ID), scoreFor(ID));
      expect((await store.get(ID))?.row.complete).toBe(false);
      const whole = recordingText({ attemptId: ID, samples: 8 });
      expect(await receiveText(whole)).toMatchObject({ ok: true, already: false });
      expect(await kept(ID)).toBe(whole);
      expect(await store.get(ID)).toMatchObject({ row: { complete: true, samples: 8, overall: null }, score: null });
    });

    test('a line cut off by a crash does not stop its recording from being gone on with', async () => {
      const whole = recordingText({ attemptId: ID, samples: 8, student: 'Ínes' });
      expect(await receiveText(whole.slice(0, whole.length - 200))).toMatchObject({ ok: true, already: false });
      expect(await receiveText(whole)).toMatchObject({ ok: true, already: false });
      expect((await store.get(ID))?.row).toMatchObject({ samples: 8, complete: true });
    });

    test('a letter cut in half by a crash is cut off with its line', async () => {
      const bytes = bytesOf(`${recordingText({ attemptId: ID, end: null })}{"text":"Í`);
      const cut = bytes.subarray(0, bytes.length - 1);
      expect(await store.receive(cut, hashOf(cut))).toMatchObject({ ok: true });
      expect(await store.recordingBytes(ID)).toEqual(Buffer.from(cut));
      expect(await store.recording(ID)).toMatchObject({ recording: { end: null }, sha256: hashOf(cut) });
    });

    test('a recording closed as interrupted is not replaced by the same without its end', async () => {
      const text = recordingText({ attemptId: ID, end: 'interrupted' });
      await receiveText(text);
      expect(await receive({ attemptId: ID, end: null })).toMatchObject({ ok: false, code: 'other-recording-kept' });
      expect(await kept(ID)).toBe(text);
    });

    test('a shorter or different recording does not replace one that broke off', async () => {
      const text = recordingText({ attemptId: ID, samples: 5, end: null });
      await receiveText(text);
      for (const other of [
        recordingText({ attemptId: ID, samples: 4, end: null }),
        recordingText({ attemptId: ID, samples: 4, end: 'stopped' }),
        recordingText({ attemptId: ID, samples: 9, student: 'Tom Reed' }),
      ]) {
        expect(await receiveText(other)).toMatchObject({ ok: false, code: 'other-recording-kept' });
      }
      expect(await kept(ID)).toBe(text);
    });

    test('a wrong hash is refused with the right one, and nothing is kept', async () => {
      const bytes = bytesOf(recordingText({ attemptId: ID }));
      const refused = await store.receive(bytes, '0'.repeat(64));
      expect(refused).toMatchObject({
        ok: false,
        code: 'hash-differs',
        message: expect.stringContaining(hashOf(bytes)),
      });
      expect(await store.recordingBytes(ID)).toBeUndefined();
      expect((await store.list({ limit: 1 })).total).toBe(0);
    });

    test.each([
      ['nothing', new Uint8Array(), 'the recording holds no whole line'],
      ['other text', bytesOf('hello\n'), 'line 1 is no header of a stillprop-recording'],
      ['bytes that are no text', new Uint8Array([0xff, 0xfe, 0x0a]), 'the recording must be UTF-8 text'],
      [
        'an id that is a path',
        bytesOf(recordingText({ attemptId: '../../escape' })),
        'line 1: attemptId must be a UUID, got "../../escape"',
      ],
    ])('%s is refused with one sentence', async (_, bytes, message) => {
      expect(await store.receive(bytes, hashOf(bytes))).toEqual({ ok: false, code: 'no-recording', message });
      expect((await store.list({ limit: 1 })).total).toBe(0);
    });

    test.each(['../../etc/passwd', '', 'nonsense', `${ID}/../x`, `${ID}\0`])(
      'no attempt is found under %j',
      async (id) => {
        expect(await store.get(id)).toBeUndefined();
        expect(await store.recordingBytes(id)).toBeUndefined();
        expect(await store.recording(id)).toBeUndefined();
      },
    );

    test('pages run from newest to oldest, each attempt once, also where times are equal', async () => {
      const times = [
        '10:00:00Z',
        '10:00:00.5Z',
        '10:00:00.250Z',
        '09:59:59.999Z',
        '10:00:00Z',
        '11:00:00Z',
        '10:00:00Z',
      ];
      for (const time of times) await receive({ attemptId: randomUUID(), startedAt: `2026-03-01T${time}` });
      const seen: { attemptId: string; startedAt: string }[] = [];
      let before: string | undefined;
      do {
        const page = await store.list({ limit: 2, before });
        expect(page.total).toBe(times.length);
        expect(page.attempts.length).toBeLessThanOrEqual(2);
        seen.push(...page.attempts);
        before = page.next ?? undefined;
      } while (before !== undefined);
      expect(seen.map((row) => row.startedAt.slice(11))).toEqual([
        '11:00:00.000Z',
        '10:00:00.500Z',
        '10:00:00.250Z',
        '10:00:00.000Z',
        '10:00:00.000Z',
        '10:00:00.000Z',
        '09:59:59.999Z',
      ]);
      expect(new Set(seen.map((row) => row.attemptId)).size).toBe(times.length);
    });

    test('an attempt that arrives between two pages shifts none of the older ones', async () => {
      for (const minute of [1, 2, 3, 4]) {
        await receive({ attemptId: randomUUID(), startedAt: `2026-03-01T10:0${minute}:00Z` });
      }
      const first = await store.list({ limit: 2 });
      await receive({ attemptId: randomUUID(), startedAt: '2026-03-01T10:09:00Z' });
      const second = await store.list({ limit: 2, before: first.next ?? '' });
      expect(second.attempts.map((row) => row.startedAt.slice(14, 16))).toEqual(['02', '01']);
    });

    test('student and scenario narrow the list and its total; quotes in a name are only a name', async () => {
      const bobby = "Robert'); DROP TABLE attempt;--";
      await receive({ attemptId: randomUUID(), student: bobby });
      await receive({ attemptId: randomUUID(), student: 'Ines Vale', scenarioId: 'other-one' });
      await receive({ attemptId: randomUUID(), student: null });
      expect(await store.list({ limit: 10, student: bobby })).toMatchObject({
        total: 1,
        attempts: [{ student: bobby }],
      });
      expect((await store.list({ limit: 10, scenarioId: 'first-turn-back' })).total).toBe(2);
      expect((await store.list({ limit: 10, student: 'Ines Vale', scenarioId: 'first-turn-back' })).total).toBe(0);
      expect((await store.list({ limit: 10 })).total).toBe(3);
    });

    test('a cursor that no page gave is refused', async () => {
      await expect(store.list({ limit: 1, before: "x' OR 1=1" })).rejects.toThrow(
        'before must be the "next" of an earlier page, got "x\' OR 1=1"',
      );
    });

    test('a saved score comes back whole and fills the columns of the list', async () => {
      await receive({ attemptId: ID });
      const score: Score = scoreFor(ID, '7');
      expect(await store.saveScore(ID, await shaOf(ID), score)).toBe(true);
      const found = await store.get(ID);
      expect(found?.score).toEqual(score);
      const [row] = (await store.list({ limit: 1 })).attempts;
      expect(row).toMatchObject({
        engineRevision: '7',
        failureHeightFt: 1002,
        outcome: 'stopped-on-runway',
        overall: 71,
        delayScore: 80,
        bankScore: 70,
        airspeedScore: 60,
        touchdownScore: null,
        delayS: 3.5,
        touchdownFt: null,
        costFt: null,
        problem: null,
      });
      expect(AttemptSummary.safeParse(row).success).toBe(true);
    });

    test('students are compared by counts and quartiles, at one scenario, rubric revision and engine', async () => {
      const scored: { student: string | null; overall: number | null; delayS: number }[] = [];
      const add = async (
        student: string | null,
        overall: number | null,
        delayS: number,
        other: Partial<{ scenarioId: string; engine: string }> = {},
      ) => {
        const attemptId = randomUUID();
        await receive({
          attemptId,
          student,
          ...(other.scenarioId === undefined ? {} : { scenarioId: other.scenarioId }),
        });
        const score = scoreFor(attemptId, other.engine ?? '7');
        const { delay } = score.criteria;
        await store.saveScore(attemptId, await shaOf(attemptId), {
          ...score,
          overall,
          criteria: { ...score.criteria, delay: { ...delay, measured: delayS } },
        });
        if (Object.keys(other).length === 0) scored.push({ student, overall, delayS });
      };
      for (const [i, overall] of [71, 88, 12, 95, 60, 60, 33, 100, 5].entries())
        await add('Ada "Finch"', overall, i / 2);
      await add('Bo Lark', 50, 4);
      await add('Bo Lark', null, 6);
      await add(null, 80, 2);
      await add('Cy Heron', 99, 1, { scenarioId: 'low-and-ahead' });
      await add('Cy Heron', 99, 1, { engine: '6' });
      const [choice] = await store.comparable();
      expect(choice).toMatchObject({ scenarioId: 'first-turn-back', rubricId: 'standard', attempts: 13 });
      const { scenarioId, rubricId, rubricRevision } = choice ?? { scenarioId: '', rubricId: '', rubricRevision: 0 };
      const query = { scenarioId, rubricId, rubricRevision, engineRevision: '7' };
      const page = { order: 'student', downwards: false, limit: 50, offset: 0 } as const;
      const { students, ...counts } = await store.compare({ ...query, ...page });
      expect(counts).toMatchObject({ attempts: 12, outOf: 12, leftOut: 1, total: 3 });
      expect(students.map(({ student, attempts }) => [student, attempts])).toEqual([
        [null, 1],
        ['Ada "Finch"', 9],
        ['Bo Lark', 2],
      ]);
      // By hand: nine in order are 5 12 33 60 60 71 88 95 100; a quarter of the way, counted up, is the third.
      expect(students[1]?.figures.overall).toEqual({
        count: 9,
        lowest: 5,
        lowerQuartile: 33,
        median: 60,
        upperQuartile: 88,
        highest: 100,
      });
      expect(students[2]?.figures.overall).toMatchObject({ count: 1, median: 50 });
      expect(students[2]?.figures.delayS).toMatchObject({ count: 2, lowest: 4, median: 4, highest: 6 });
      expect(students[0]?.figures.touchdownFt).toBeNull();
      expect((await store.compare({ ...query, ...page, scenarioId: "x' or 1=1 --" })).students).toEqual([]);
    });

    test('a part of a name finds it whatever the case, beyond A to Z too, and no sign is a wildcard', async () => {
      for (const student of ['Özge Śmiała', 'özge b', 'Ozge', 'A_b%c\\d', 'Axbyc'])
        await receive({ attemptId: randomUUID(), student });
      const found = async (name: string) =>
        (await store.list({ limit: 9, name })).attempts.map(({ student }) => student).sort();
      expect(await found('ÖZGE')).toEqual(['Özge Śmiała', 'özge b']);
      expect(await found('özge ś')).toEqual(['Özge Śmiała']);
      expect(await found('smiala')).toEqual([]);
      expect(await found('a_B')).toEqual(['A_b%c\\d']);
      expect(await found('%C\\')).toEqual(['A_b%c\\d']);
      expect(await found("' or 1=1 --")).toEqual([]);
      expect(await found(' ')).toHaveLength(5);
    });

    test('a recording that cannot be scored keeps its place in the list, with the reason', async () => {
      await receive({ attemptId: ID });
      await store.saveScore(ID, await shaOf(ID), scoreFor(ID));
      await store.saveScore(ID, await shaOf(ID), { engineRevision: '8', problem: 'no lift-off in it' });
      expect(await store.get(ID)).toMatchObject({
        row: { engineRevision: '8', problem: 'no lift-off in it', overall: null, outcome: null },
        score: null,
      });
    });

    test('a score of a recording replaced meanwhile is not written', async () => {
      await receive({ attemptId: ID, samples: 3, end: null });
      const old = await shaOf(ID);
      await receive({ attemptId: ID, samples: 8 });
      expect(await store.saveScore(ID, old, scoreFor(ID))).toBe(false);
      expect((await store.get(ID))?.score).toBeNull();
      expect(await store.unscored('1')).toEqual([ID]);
    });

    test('unscored attempts are told newest first, until they have a score or a problem', async () => {
      const [first, second, third] = [randomUUID(), randomUUID(), randomUUID()];
      await receive({ attemptId: first, startedAt: '2026-03-01T10:00:00Z' });
      await receive({ attemptId: second, startedAt: '2026-03-03T10:00:00Z' });
      await receive({ attemptId: third, startedAt: '2026-03-02T10:00:00Z' });
      expect(await store.unscored('1')).toEqual([second, third, first]);
      await store.saveScore(third, await shaOf(third), scoreFor(third));
      await store.saveScore(second, await shaOf(second), { engineRevision: '1', problem: 'no' });
      expect(await store.unscored('1')).toEqual([first]);
      // An engine of another revision has scored none of them.
      expect(await store.unscored('2')).toEqual([second, third, first]);
    });

    test('the index rebuilt from the recordings alone lists the same attempts, unscored', async () => {
      for (const samples of [2, 3, 4]) {
        await receive({ attemptId: randomUUID(), samples, startedAt: `2026-03-0${samples}T10:00:00Z` });
      }
      const before = await store.list({ limit: 10 });
      const [newest] = before.attempts;
      await store.saveScore(newest?.attemptId ?? '', newest?.sha256 ?? '', scoreFor(newest?.attemptId ?? ''));
      expect(await store.reindex()).toEqual({ indexed: 3, dropped: 0, unreadable: [] });
      expect(await store.list({ limit: 10 })).toEqual(before);
    });

    test('everything is there again after a restart, scores too', async () => {
      const text = recordingText({ attemptId: ID });
      await receiveText(text);
      await store.saveScore(ID, await shaOf(ID), scoreFor(ID));
      const found = await store.get(ID);
      store = await under.reopen();
      expect(await store.get(ID)).toEqual(found);
      expect(await kept(ID)).toBe(text);
      expect(await receiveText(text)).toMatchObject({ ok: true, already: true });
    });
  });
}

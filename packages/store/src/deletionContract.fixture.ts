// What every store must do with deleted attempts, whatever the database under it: one suite, run over each.
import { createHash, randomUUID } from 'node:crypto';
import { DeletedAttempt } from '@stillprop/contracts';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { StoreUnderTest } from './attemptStoreContract.fixture.js';
import type { AttemptStore } from './index.js';
import { noteFor } from './noteFor.fixture.js';
import { type RecordingChoices, recordingText, scoreFor } from './recording.fixture.js';

const ID = '3f0c5a52-7a0e-4d0b-9d5e-0a4b6f1c2d3e';
const hashOf = (text: string) => createHash('sha256').update(text).digest('hex');

export function deletionContract(name: string, make: () => Promise<StoreUnderTest>): void {
  describe(`deleted attempts on ${name}`, () => {
    let under: StoreUnderTest;
    let store: AttemptStore;
    beforeEach(async () => {
      under = await make();
      store = under.store;
    });
    afterEach(() => under.dispose());

    const receiveText = (text: string) => store.receive(new TextEncoder().encode(text), hashOf(text));
    const receive = (choices: RecordingChoices) => receiveText(recordingText(choices));
    const score = async (attemptId: string) =>
      store.saveScore(attemptId, (await store.get(attemptId))?.row.sha256 ?? '', scoreFor(attemptId));
    const listed = async () => (await store.list({ limit: 50 })).attempts.map(({ attemptId }) => attemptId);
    const deleted = async () => (await store.deleted.list()).map(({ attemptId }) => attemptId);

    test('a deleted attempt is in no list, comparison or search, and comes back as it was', async () => {
      const other = randomUUID();
      const text = recordingText({ attemptId: ID, samples: 7 });
      const note = noteFor();
      await receiveText(text);
      await receive({ attemptId: other });
      for (const id of [ID, other]) await score(id);
      await store.notes.add(ID, note);
      const before = await store.get(ID);
      const list = await store.list({ limit: 10 });

      expect(await store.deleted.delete(ID.toUpperCase())).toEqual({
        ok: true,
        attemptId: ID,
        already: false,
        deletedAt: expect.stringMatching(/^\d{4}-\d\d-\d\dT[\d:.]{12}Z$/),
      });
      expect(await store.list({ limit: 10 })).toMatchObject({ total: 1, attempts: [{ attemptId: other }] });
      expect(await store.get(ID)).toBeUndefined();
      expect(await store.recordingBytes(ID)).toBeUndefined();
      expect(await store.recording(ID)).toBeUndefined();
      expect(await store.notes.list(ID)).toMatchObject({ ok: false, code: 'no-attempt' });
      expect(await store.notes.add(ID, noteFor())).toMatchObject({ ok: false, code: 'no-attempt' });
      const [choice] = await store.comparable();
      expect(choice?.attempts).toBe(1);
      const { students, leftOut } = await store.compare({
        ...(choice as NonNullable<typeof choice>),
        engineRevision: '1',
        order: 'student',
        downwards: false,
        limit: 10,
        offset: 0,
      });
      expect(students.map(({ attempts, figures }) => [attempts, figures.overall?.count])).toEqual([[1, 1]]);
      expect(leftOut).toBe(0); // the deleted one is none that was left out for its engine
      expect(await store.unscored('2')).toEqual([other]);
      const [row] = await store.deleted.list();
      expect(DeletedAttempt.parse(row)).toMatchObject({ ...before?.row });
      expect([await store.deleted.has(ID), await store.deleted.has(other)]).toEqual([true, false]);

      expect(await store.deleted.restore(ID)).toEqual({ ok: true, attemptId: ID, already: false });
      expect(await store.get(ID)).toEqual(before);
      expect(await store.list({ limit: 10 })).toEqual(list);
      expect(new TextDecoder().decode(await store.recordingBytes(ID))).toBe(text);
      expect(await store.notes.list(ID)).toEqual({ ok: true, notes: [note] });
      expect(await deleted()).toEqual([]);
    });

    test('deleting and restoring twice is as once', async () => {
      await receive({ attemptId: ID });
      const all = await Promise.all([1, 2, 3].map(() => store.deleted.delete(ID)));
      expect(all.map((one) => one.ok && one.already)).toEqual([false, true, true]);
      expect(new Set(all.map((one) => one.ok && one.deletedAt)).size).toBe(1);
      const back = await Promise.all([1, 2, 3].map(() => store.deleted.restore(ID)));
      expect(back.map((one) => one.ok && one.already)).toEqual([false, true, true]);
      expect(await listed()).toEqual([ID]);
    });

    test.each(['../../etc/passwd', '', randomUUID()])(
      'attempt %j is neither deleted nor restored',
      async (attemptId) => {
        const refused = { ok: false, code: 'no-attempt', message: `there is no attempt ${attemptId}` };
        expect(await store.deleted.delete(attemptId)).toEqual(refused);
        expect(await store.deleted.restore(attemptId)).toEqual(refused);
        expect(await store.deleted.has(attemptId)).toBe(false);
      },
    );

    test('a deleted attempt sent again is acknowledged and stays deleted, with its score', async () => {
      const text = recordingText({ attemptId: ID });
      await receiveText(text);
      await score(ID);
      await store.deleted.delete(ID);
      expect(await receiveText(text)).toEqual({ ok: true, attemptId: ID, sha256: hashOf(text), already: true });
      store = await under.reopen();
      expect(await receiveText(text)).toMatchObject({ ok: true, already: true });
      expect([await listed(), await deleted()]).toEqual([[], [ID]]);
      await store.deleted.restore(ID);
      expect((await store.get(ID))?.score?.overall).toBe(71);
    });

    test('of a deleted attempt that broke off, the rest is taken and stays deleted; other contents are refused', async () => {
      await receive({ attemptId: ID, samples: 3, end: null });
      await store.deleted.delete(ID);
      const whole = recordingText({ attemptId: ID, samples: 8 });
      expect(await receiveText(whole)).toMatchObject({ ok: true, already: false });
      expect(await receive({ attemptId: ID, samples: 9 })).toMatchObject({ ok: false, code: 'other-recording-kept' });
      expect([await listed(), await deleted()]).toEqual([[], [ID]]);
      await store.deleted.restore(ID);
      expect(new TextDecoder().decode(await store.recordingBytes(ID))).toBe(whole);
      expect((await store.get(ID))?.row).toMatchObject({ samples: 8, complete: true });
    });

    test('a score that was under way when its attempt was deleted is there when it is restored', async () => {
      await receive({ attemptId: ID });
      const sha256 = (await store.get(ID))?.row.sha256 ?? '';
      await store.deleted.delete(ID);
      expect(await store.saveScore(ID, sha256, scoreFor(ID))).toBe(true);
      expect(await store.unscored('2')).toEqual([]);
      await store.deleted.restore(ID);
      expect((await store.get(ID))?.score?.overall).toBe(71);
    });

    test('an index rebuilt from the recordings brings no deleted attempt back, and can restore it', async () => {
      const [first, second] = [randomUUID(), randomUUID()];
      for (const attemptId of [ID, first, second]) await receive({ attemptId });
      for (const attemptId of [ID, first]) await store.deleted.delete(attemptId);
      const note = noteFor();
      await store.notes.add(second, note);
      expect(await store.reindex()).toEqual({ indexed: 1, dropped: 0, unreadable: [] });
      expect(await listed()).toEqual([second]);
      expect((await deleted()).sort()).toEqual([ID, first].sort());
      expect(await store.deleted.restore(ID)).toMatchObject({ ok: true, already: false });
      expect((await listed()).sort()).toEqual([ID, second].sort());
      expect(await store.notes.list(second)).toEqual({ ok: true, notes: [note] });
    });
  });
}

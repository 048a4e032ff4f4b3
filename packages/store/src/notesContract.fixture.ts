// What every store must do with notes, whatever the database under it: one suite, run over each.
import { createHash, randomUUID } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { StoreUnderTest } from './attemptStoreContract.fixture.js';
import type { AttemptStore } from './index.js';
import { noteFor } from './noteFor.fixture.js';
import { recordingText, scoreFor } from './recording.fixture.js';

const ID = '3f0c5a52-7a0e-4d0b-9d5e-0a4b6f1c2d3e';

export function notesContract(name: string, make: () => Promise<StoreUnderTest>): void {
  describe(`notes on ${name}`, () => {
    let under: StoreUnderTest;
    let store: AttemptStore;
    beforeEach(async () => {
      under = await make();
      store = under.store;
      await receive(ID);
    });
    afterEach(() => under.dispose());

    async function receive(attemptId: string) {
      const bytes = new TextEncoder().encode(recordingText({ attemptId }));
      await store.receive(bytes, createHash('sha256').update(bytes).digest('hex'));
    }
    const texts = async (attemptId = ID) => {
      const found = await store.notes.list(attemptId);
      return found.ok ? found.notes.map(({ text }) => text) : found.code;
    };

    test('notes come back whole, the whole attempt first, then by moment', async () => {
      const [late, early, whole] = [
        noteFor({ atS: 3.25, text: 'Late' }),
        noteFor({ atS: 1, text: 'Early\n“<b>&"\u0000\ud800 ünd 🛩' }),
        noteFor({ atS: null, author: 'pilot', name: null, text: 'Whole' }),
      ];
      for (const note of [late, early, whole]) {
        expect(await store.notes.add(ID, note)).toEqual({ ok: true, note, already: false });
      }
      expect(await store.notes.list(ID)).toEqual({ ok: true, notes: [whole, early, late] });
    });

    test('the same note sent again is there once; another under its id is refused', async () => {
      const note = noteFor({ text: 'First' });
      const all = await Promise.all(Array.from({ length: 10 }, () => store.notes.add(ID, { ...note })));
      expect(all.filter((one) => one.ok && !one.already).length).toBe(1);
      expect(all.filter((one) => one.ok && one.already).length).toBe(9);
      expect(await store.notes.add(ID, { ...note, text: 'Other' })).toMatchObject({
        ok: false,
        code: 'other-note-kept',
        message: `note ${note.id} is kept already with other contents, and those stay: a new note must have a new id`,
      });
      expect(await texts()).toEqual(['First']);
    });

    test('notes added at once are all kept', async () => {
      await Promise.all([1, 2, 3, 4, 5].map((atS) => store.notes.add(ID, noteFor({ atS, text: String(atS) }))));
      expect(await texts()).toEqual(['1', '2', '3', '4', '5']);
    });

    test('a text is changed and nothing else; a note is taken away and no other', async () => {
      const [first, second] = [noteFor({ atS: 1, text: 'One' }), noteFor({ atS: 2, text: 'Two' })];
      for (const note of [first, second]) await store.notes.add(ID, note);
      expect(await store.notes.edit(ID, first.id.toUpperCase(), 'One, better')).toEqual({
        ok: true,
        note: { ...first, text: 'One, better' },
        already: false,
      });
      expect(await store.notes.edit(ID, first.id, 'One, better')).toMatchObject({ ok: true, already: true });
      expect(await store.notes.remove(ID, second.id)).toEqual({ ok: true, note: second, already: false });
      expect(await texts()).toEqual(['One, better']);
      for (const again of [store.notes.remove(ID, second.id), store.notes.edit(ID, second.id, 'x')]) {
        expect(await again).toEqual({ ok: false, code: 'no-note', message: `there is no note ${second.id}` });
      }
    });

    test.each(['../../etc/passwd', '', randomUUID()])('attempt %j has no notes and takes none', async (attemptId) => {
      const refused = { ok: false, code: 'no-attempt', message: `there is no attempt ${attemptId}` };
      expect(await store.notes.list(attemptId)).toEqual(refused);
      expect(await store.notes.add(attemptId, noteFor())).toEqual(refused);
    });

    test('notes stay with their attempt', async () => {
      const other = randomUUID();
      await receive(other);
      await store.notes.add(ID.toUpperCase(), noteFor({ text: 'Here' }));
      expect([await texts(), await texts(other)]).toEqual([['Here'], []]);
    });

    test('notes outlive a restart and an index rebuilt from the recordings', async () => {
      const note = noteFor();
      await store.notes.add(ID, note);
      await store.saveScore(ID, (await store.get(ID))?.row.sha256 ?? '', scoreFor(ID));
      store = await under.reopen();
      await store.reindex();
      expect(await store.notes.list(ID)).toEqual({ ok: true, notes: [note] });
    });
  });
}

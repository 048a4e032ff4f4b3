import fc from 'fast-check';
import { expect, test } from 'vitest';
import { waterfall } from './waterfall.js';

const ledger = (heightAtFailureFt: number, steps: readonly number[]) => ({
  heightAtFailureFt,
  rows: steps.map((heightFt, i) => ({ code: String(i), text: '', heightFt, energyFt: 0, fromS: i, toS: i + 1 })),
  heightAtContactFt: heightAtFailureFt + steps.reduce((sum, step) => sum + step, 0),
});

test('each piece begins where the one before ended, the last at the height of contact', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 50, max: 3000 }),
      fc.array(fc.integer({ min: -900, max: 300 }), { minLength: 1, maxLength: 9 }),
      (height, steps) => {
        const input = ledger(height, steps);
        const { pieces, share } = waterfall(input);
        expect(pieces[0]?.from).toBeCloseTo(share(height), 9);
        pieces.forEach((piece, i) => {
          expect(piece.from).toBeGreaterThanOrEqual(0);
          expect(piece.to).toBeLessThanOrEqual(1);
          if (i > 0) expect(piece.from).toBeCloseTo(pieces[i - 1]?.to ?? Number.NaN, 9);
        });
        expect(pieces.at(-1)?.to).toBeCloseTo(share(input.heightAtContactFt), 9);
      },
    ),
  );
});

test('climbing on after the failure goes beyond the height there was, and the scale holds it', () => {
  const { pieces, share } = waterfall(ledger(1000, [60, -1060]));
  expect(share(1060)).toBe(1);
  expect(pieces[0]?.to).toBeGreaterThan(pieces[0]?.from ?? 1);
  expect(pieces[1]?.to).toBe(0);
});

// Watches the slots of an unknown stream: newest value, range, and whether it moves; the shape is guessed anew as more comes.
import type { Decoder, SeenSlot } from '@stillprop/contracts';
import { type Row, readerOf, type Slot } from '../readers.js';
import { guessShape, type Shape } from './guessShape.js';
import { suggestions } from './suggest.js';

const KEPT_MESSAGES = 200;
/** The shape is guessed again when so many messages have come: more of them make it surer. */
const GUESS_AT: ReadonlySet<number> = new Set([1, 2, 4, 8, 16, 32, 64, 128, 200]);
/** After this many messages in a row that the shape cannot read, it is guessed anew. */
const UNREAD_MESSAGES = 40;
const LONGEST_TEXT = 40;

export interface SlotWatch {
  /** @param atS When the message came, on a steady clock. */
  give(message: Uint8Array, atS: number): void;
  /** null: no shape was found in what came so far. */
  shape(): Shape | null;
  slots(): SeenSlot[];
}

interface Seen {
  newest: SeenSlot['newest'];
  lowest: number | null;
  highest: number | null;
  moves: boolean;
}

/** A watch of a stream; memory stays the same however long it runs. `known` is the decoder of a profile that is changed. */
export function createSlotWatch(known: Shape | null = null): SlotWatch {
  const kept: { readonly message: Uint8Array; readonly atS: number }[] = [];
  let given = 0;
  let unread = 0;
  let shape = known;
  let table = shape === null ? null : slotTable(shape);

  const guess = () => {
    const next = guessShape(kept.map(({ message }) => message));
    if (next === null || (shape !== null && isSame(next, shape))) return;
    shape = next;
    table = slotTable(next);
    for (const { message, atS } of kept) table.give(message, atS);
  };
  return {
    give: (message, atS) => {
      given += 1;
      kept.push({ message: message.slice(), atS });
      if (kept.length > KEPT_MESSAGES) kept.shift();
      unread = (table?.give(message, atS) ?? false) ? 0 : unread + 1;
      if (known === null && (GUESS_AT.has(given) || unread === UNREAD_MESSAGES)) {
        if (unread === UNREAD_MESSAGES) kept.splice(0, kept.length - UNREAD_MESSAGES);
        unread = 0;
        guess();
      }
    },
    shape: () => shape,
    slots: () => table?.slots() ?? [],
  };
}

function isSame(a: Shape, b: Shape): boolean {
  return JSON.stringify([a.decoder, a.slots]) === JSON.stringify([b.decoder, b.slots]);
}

function slotTable({ decoder, slots }: { readonly decoder: Decoder; readonly slots: readonly Slot[] }) {
  const rowsOf = readerOf(decoder, slots);
  const seen = slots.map((): Seen => ({ newest: null, lowest: null, highest: null, moves: false }));
  const take = (row: Row) => {
    for (const [index, one] of seen.entries()) {
      const value = shown(row[index]);
      if (value === null) continue;
      if (one.newest !== null && one.newest !== value) one.moves = true;
      one.newest = value;
      const number = Number(value);
      if (typeof value === 'string' || !Number.isFinite(number)) continue;
      one.lowest = Math.min(one.lowest ?? number, number);
      one.highest = Math.max(one.highest ?? number, number);
    }
  };
  return {
    /** @returns Whether a number or truth could be read: text that is none may be anything. */
    give: (message: Uint8Array, atS: number): boolean => {
      const rows = rowsOf(message, atS);
      for (const row of rows) if (typeof row !== 'string') take(row);
      return rows.some((row) =>
        typeof row === 'string'
          ? row === 'kept'
          : row.some((value) => value !== undefined && typeof value !== 'string'),
      );
    },
    slots: (): SeenSlot[] => {
      const bare = seen.map((one, index) => ({ slot: slots[index] as Slot, ...one }));
      const offered = suggestions(bare);
      return bare.map((one, index) => ({ ...one, suggestion: offered[index] ?? null }));
    },
  };
}

function shown(value: unknown): SeenSlot['newest'] {
  if (typeof value === 'number') return Number.isFinite(value) ? value : null;
  if (typeof value === 'string') return value.slice(0, LONGEST_TEXT);
  return typeof value === 'boolean' ? value : null;
}

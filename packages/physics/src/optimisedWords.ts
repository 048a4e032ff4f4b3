// A technique that a search found, in words a pilot can fly, with what could be taught of it and what no one should try.
import type { FlyRequest } from './request.js';

/** One difference from the technique given. */
export interface TechniqueWord {
  /** What to do. */
  readonly text: string;
  /** What it is worth: more height is needed without it (ft); null: without it no return works. */
  readonly worthFt: number | null;
  /** False: flown so slow, or so low, that it is no technique for a pilot near the ground. */
  readonly teachable: boolean;
  /** Why it is, or is not. */
  readonly because: string;
}

interface Speeds {
  readonly targetKcas: number;
  readonly straightKcas: number;
  readonly alignKcas: number;
  readonly alignBankDeg: number;
}

/** A speed below this many stall speeds (at the load then flown) is left to the model; common practice, no source. */
const TAUGHT_STALLS = 1.1;
/** Differences smaller than these are none (kt, deg). */
const SAME_KT = 1;
const SAME_DEG = 1;

/** @param withoutFt Height more that is needed when one number is put back to what was given; infinite: no return. */
export function describeTechnique(
  { aircraft, technique }: FlyRequest,
  given: Speeds,
  found: Speeds,
  withoutFt: (name: keyof Speeds) => number,
): TechniqueWord[] {
  const stall = aircraft.stallCleanKcas * Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  const words: TechniqueWord[] = [];
  const add = (name: keyof Speeds, text: string, stallKcas: number | null, low: string) => {
    const worthFt = withoutFt(name);
    const stalls = stallKcas === null ? Number.POSITIVE_INFINITY : found[name] / stallKcas;
    const teachable = stalls >= TAUGHT_STALLS;
    words.push({
      text,
      worthFt: Number.isFinite(worthFt) ? worthFt : null,
      teachable,
      because: teachable
        ? 'it keeps a tenth or more over the stall speed of the moment'
        : `it leaves ${((stalls - 1) * 100).toFixed(0)} % over the stall speed of the moment${low}: practice for a simulator`,
    });
  };
  const slower = (name: 'targetKcas' | 'straightKcas' | 'alignKcas') =>
    found[name] < given[name] ? 'slower' : 'faster';
  if (Math.abs(found.targetKcas - given.targetKcas) > SAME_KT) {
    // At the margin the bank yields: the load is what the speed allows.
    const atBank = stall / Math.sqrt(Math.cos((technique.bankDeg * Math.PI) / 180));
    const turnStall = Math.min(atBank, found.targetKcas / technique.stallMargin);
    add('targetKcas', `turn ${slower('targetKcas')}, at ${found.targetKcas.toFixed(0)} kt`, turnStall, ' in the turn');
  }
  if (Math.abs(found.straightKcas - given.straightKcas) > SAME_KT)
    add(
      'straightKcas',
      `fly the straight leg ${slower('straightKcas')}, at ${found.straightKcas.toFixed(0)} kt`,
      stall,
      '',
    );
  if (Math.abs(found.alignKcas - given.alignKcas) > SAME_KT)
    add(
      'alignKcas',
      `from the alignment on fly ${slower('alignKcas')}, at ${found.alignKcas.toFixed(0)} kt`,
      stall / Math.sqrt(Math.cos((found.alignBankDeg * Math.PI) / 180)),
      ', close to the ground',
    );
  if (Math.abs(found.alignBankDeg - given.alignBankDeg) > SAME_DEG) {
    const shallow = found.alignBankDeg < given.alignBankDeg ? 'earlier and shallower' : 'later and steeper';
    add('alignBankDeg', `align ${shallow}, with ${found.alignBankDeg.toFixed(0)}° of bank`, null, '');
  }
  return words;
}

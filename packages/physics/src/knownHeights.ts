// The heights a search has been tried from, each flown once.
import type { Judged } from './aim.js';
import { isStop, type ReturnSearch } from './returnSearch.js';
import { moveFailure } from './scene.js';

/** The best flight found from one failure height. */
export interface KnownHeight {
  readonly heightFt: number;
  /** Runway returned to. */
  readonly runway: string;
  readonly judged: Judged;
}

/** Tries one search from many heights and remembers what each came to. */
export class KnownHeights {
  /** How often the attempt flown from a height did not end as the search there had. */
  contradictions = 0;
  private readonly known = new Map<number, KnownHeight>();
  private readonly flown = new Set<number>();

  constructor(private readonly search: ReturnSearch) {}

  /** What is known of a height; searched with the aim of the height before where nothing is. */
  probe(heightFt: number): KnownHeight {
    return this.known.get(heightFt) ?? this.add(heightFt, () => this.search.find());
  }

  /** The attempt flown from a height, which knows no other; from now on it is what is known. */
  fly(heightFt: number): KnownHeight {
    const before = this.known.get(heightFt);
    if (before !== undefined && this.flown.has(heightFt)) return before;
    const now = this.add(heightFt, () => this.search.asFlown());
    if (before !== undefined && isStop(before.judged) !== isStop(now.judged)) this.contradictions++;
    return now;
  }

  /** All that is known, in rising order of height. */
  inOrder(): KnownHeight[] {
    return [...this.known.values()].sort((a, b) => a.heightFt - b.heightFt);
  }

  private add(heightFt: number, find: () => Judged): KnownHeight {
    moveFailure(this.search.scene, heightFt);
    const height = { heightFt, runway: this.search.scene.target.name, judged: find() };
    this.known.set(heightFt, height);
    if (this.search.answeredAsFlown) this.flown.add(heightFt);
    return height;
  }
}

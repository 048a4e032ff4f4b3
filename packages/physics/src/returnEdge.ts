// The edge of a return window, to a foot, and the height from which a window counts as one to return from.

/** Edges are known to this (ft). */
const PRECISION_FT = 1;
/** A return has to work from everywhere this far above a height, tried every so many feet, before the height counts (ft). */
export const ISLAND_FT = 50;
const ISLAND_STEP_FT = 10;
/** Steps that follow an edge grow by this. */
export const STEP_GROWTH = 1.5;

/** What is known of a return from one failure height. */
export interface ReturnProbe {
  readonly heightFt: number;
  readonly works: boolean;
}

/**
 * The outermost height that works between one that does and one that does not, by bisection.
 *
 * @param probe Asked at whole feet between the two.
 */
export function bisected<P extends ReturnProbe>(good: P, badFt: number, probe: (heightFt: number) => P): P {
  let [best, outsideFt] = [good, badFt];
  while (Math.abs(best.heightFt - outsideFt) > PRECISION_FT) {
    const middle = probe(Math.round((best.heightFt + outsideFt) / 2));
    if (middle.works) best = middle;
    else outsideFt = middle.heightFt;
  }
  return best;
}

/**
 * An edge moved to where the flights agree: the search of an attempt flown from there, which knows nothing of its
 * neighbours, finds a stop at the edge and none a foot outside. Moved in, or out, in growing steps and then by
 * bisection.
 *
 * @param edge Outermost height that works for a search that was handed the aim of the height before.
 * @param insideFt The interval is followed in up to here, and @param outsideFt out up to here.
 * @param fly The attempt flown from a height.
 * @param outwards False: only moved in.
 * @returns Null where no attempt from inside stops.
 */
export function flownEdge<P extends ReturnProbe>(
  edge: P,
  insideFt: number,
  outsideFt: number,
  fly: (heightFt: number) => P,
  outwards = true,
): P | null {
  const sign = Math.sign(outsideFt - edge.heightFt);
  const upTo = (heightFt: number, limitFt: number, towards: number) =>
    towards > 0 ? Math.min(heightFt, limitFt) : Math.max(heightFt, limitFt);
  let good = fly(edge.heightFt);
  let step = PRECISION_FT;
  if (good.works) {
    for (;;) {
      if (!outwards || good.heightFt === outsideFt) return good;
      const next = fly(upTo(good.heightFt + sign * step, outsideFt, sign));
      if (!next.works) return bisected(good, next.heightFt, fly);
      good = next;
      step *= 2;
    }
  }
  let bad = good;
  while (!good.works) {
    if (good.heightFt === insideFt) return null;
    bad = good;
    good = fly(upTo(good.heightFt - sign * step, insideFt, -sign));
    step *= 2;
  }
  return bisected(good, bad.heightFt, fly);
}

/** How heights are tried for an opening edge. */
export interface HeightTrials {
  /** Handed the aim of the height tried before: cheap. */
  readonly probe: (heightFt: number) => ReturnProbe;
  /** As an attempt is flown from there. */
  readonly fly: (heightFt: number) => ReturnProbe;
  /** Nothing is tried above (ft). */
  readonly highestFt: number;
}

/**
 * The lowest height to return from between one that fails and one that works or, where only islands lie between, above.
 *
 * @returns Null: none up to the highest.
 */
export function openingEdge(works: ReturnProbe, failsFt: number, trials: HeightTrials): number | null {
  const { probe, fly, highestFt } = trials;
  let good = works;
  let badFt = failsFt;
  for (;;) {
    const edge = flownEdge(bisected(good, badFt, probe), highestFt, badFt, fly);
    if (edge === null) return null;
    const fails = failsAbove(edge.heightFt, highestFt, (heightFt) => probe(heightFt));
    if (fails === null) return edge.heightFt;
    const next = firstAbove(fails, ISLAND_STEP_FT, trials);
    if (next === null) return null;
    good = next.works;
    badFt = next.failsFt;
  }
}

/** A height that works above one that does not, looked for in growing steps, and the last below it that does not. */
export function firstAbove(
  fromFt: number,
  firstStepFt: number,
  { probe, highestFt }: Pick<HeightTrials, 'probe' | 'highestFt'>,
): { readonly works: ReturnProbe; readonly failsFt: number } | null {
  let failsFt = fromFt;
  for (let step = firstStepFt; failsFt < highestFt; step *= STEP_GROWTH) {
    const works = probe(Math.min(Math.round(failsFt + step), highestFt));
    if (works.works) return { works, failsFt };
    failsFt = works.heightFt;
  }
  return null;
}

/**
 * Islands: heights a few feet apart may return and not return in turn, where one way home works by a few feet of luck.
 * To a pilot they are no height to return from. This looks above an opening edge for a height that fails.
 *
 * @returns The first height up to 50 ft above that does not work (ft); null: none, the edge counts.
 */
export function failsAbove(edgeFt: number, limitFt: number, probe: (heightFt: number) => ReturnProbe): number | null {
  for (let above = ISLAND_STEP_FT; above <= ISLAND_FT && edgeFt + above <= limitFt; above += ISLAND_STEP_FT)
    if (!probe(edgeFt + above).works) return edgeFt + above;
  return null;
}

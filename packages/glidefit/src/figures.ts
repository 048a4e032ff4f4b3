// The figures a pilot knows, from the polar fitted: each with its uncertainty, beside what is expected, and in words.
import { type Aeroplane, bestGlide, MPS_PER_FPM, MPS_PER_KT, SEA_LEVEL_DENSITY_KG_M3 } from '@stillprop/physics';
import type { Doubt } from './cautions.js';
import type { FittedFigure, GlideFit, Verdict } from './glideFit.js';
import type { Polar, PolarFit } from './polarFit.js';
import { studentT95 } from './studentT.js';

/** An interval wider than this to either side cannot tell a good aeroplane from a bad one (%); own choice. */
const WIDE_PERCENT = 15;

/** Differences smaller than this matter to nobody, however surely they are there (%); own choice. */
const IMMATERIAL_PERCENT = 1;

const UNTOLD = {
  held: 'held at the handbook value: the glide does not tell it',
  extrapolated: 'not told: best glide lies outside the speeds flown',
} as const;

type FigureName =
  | 'bestGlideRatio'
  | 'bestGlideKcas'
  | 'dragZeroLift'
  | 'inducedFactor'
  | 'propellerSinkFactor'
  | 'sinkAtBestGlideFpm';

interface Definition {
  readonly of: (polar: Polar) => number;
  /** Powers of CD0 and K that the figure goes with at this polar: its logarithmic derivatives. */
  readonly powers: (polar: Polar) => readonly [number, number];
  readonly words: (percent: string, more: boolean) => string;
}

/**
 * All figures. Logarithms are what was fitted, so intervals are symmetric there and the delta method is exact for the
 * powers of CD0 and K that the first four are: L/D = 1/(2√(CD0·K)), V ∝ (K/CD0)^¼.
 *
 * @param expected The polar of the aircraft file in the propeller state flown.
 * @param handbookFactor `propellerSinkFactor` of the state that the handbook glide belongs to.
 * @param bestGlideFlown Whether best glide lies within what was flown: without, its speed is not told.
 * @param doubted What the ground track contradicts: with any of it every verdict is `unclear`.
 */
export function figuresOf(
  fit: PolarFit,
  expected: Polar,
  plane: Aeroplane,
  handbookFactor: number,
  doubted: readonly Doubt[],
  bestGlideFlown: boolean,
): Pick<GlideFit, FigureName> {
  const definitions = definitionsOf(plane, handbookFactor);
  const untold = (name: FigureName) => {
    if (name === 'inducedFactor' && fit.inducedHeld) return 'held';
    return name === 'bestGlideKcas' && !bestGlideFlown ? 'extrapolated' : null;
  };
  const figure = (name: FigureName) => figureOf(definitions[name], fit, expected, doubted, untold(name));
  return {
    bestGlideRatio: figure('bestGlideRatio'),
    bestGlideKcas: figure('bestGlideKcas'),
    dragZeroLift: figure('dragZeroLift'),
    inducedFactor: figure('inducedFactor'),
    propellerSinkFactor: figure('propellerSinkFactor'),
    sinkAtBestGlideFpm: figure('sinkAtBestGlideFpm'),
  };
}

/** CL at an equivalent airspeed, lift equal to weight. */
function liftAt(plane: Aeroplane, easMps: number): number {
  return plane.weightN / (0.5 * SEA_LEVEL_DENSITY_KG_M3 * easMps * easMps * plane.wingAreaM2);
}

function definitionsOf(plane: Aeroplane, handbookFactor: number): Record<FigureName, Definition> {
  const handbookLift = liftAt(plane, plane.bestGlideMps);
  const dragThere = ({ dragZeroLift, inducedFactor }: Polar) => dragZeroLift + inducedFactor * handbookLift ** 2;
  const handbookDrag = dragThere(plane);
  const sharesThere = (polar: Polar): readonly [number, number] => {
    const zero = polar.dragZeroLift / dragThere(polar);
    return [zero, 1 - zero];
  };
  const amount = (less: string, more: string) => (percent: string, isMore: boolean) =>
    `${percent} ${isMore ? more : less}`;
  return {
    bestGlideRatio: {
      of: (polar) => bestGlide(polar).ratio,
      powers: () => [-0.5, -0.5],
      words: (percent, more) => `glides ${percent} ${more ? 'better' : 'worse'}`,
    },
    bestGlideKcas: {
      of: (polar) => (plane.bestGlideMps * Math.sqrt(handbookLift / bestGlide(polar).lift)) / MPS_PER_KT,
      powers: () => [-0.25, 0.25],
      words: (percent, more) => `glides best ${percent} ${more ? 'faster' : 'slower'}`,
    },
    dragZeroLift: { of: (polar) => polar.dragZeroLift, powers: () => [1, 0], words: amount('less', 'more') },
    inducedFactor: { of: (polar) => polar.inducedFactor, powers: () => [0, 1], words: amount('less', 'more') },
    propellerSinkFactor: {
      of: (polar) => (handbookFactor * dragThere(polar)) / handbookDrag,
      powers: sharesThere,
      words: amount('less', 'more'),
    },
    sinkAtBestGlideFpm: {
      of: (polar) => (plane.bestGlideMps * Math.sin(Math.atan(dragThere(polar) / handbookLift))) / MPS_PER_FPM,
      powers: sharesThere,
      words: (percent, more) => `sinks ${percent} ${more ? 'faster' : 'slower'}`,
    },
  };
}

function figureOf(
  { of, powers, words }: Definition,
  fit: PolarFit,
  handbook: Polar,
  doubted: readonly Doubt[],
  untold: keyof typeof UNTOLD | null,
): FittedFigure {
  const value = of(fit);
  const expected = of(handbook);
  const differencePercent = (value / expected - 1) * 100;
  if (untold !== null)
    return {
      value,
      standardError: null,
      interval95: null,
      expected,
      differencePercent,
      verdict: untold,
      text: UNTOLD[untold],
    };
  const [a, b] = powers(fit);
  const [[aa, ab], [, bb]] = fit.covariance;
  const logError = Math.sqrt(Math.max(a * a * aa + 2 * a * b * ab + b * b * bb, 0));
  const wide = studentT95(fit.degreesOfFreedom) * logError;
  const interval95 = { low: value * Math.exp(-wide), high: value * Math.exp(wide) };
  const outside = expected < interval95.low || expected > interval95.high;
  const material = Math.abs(differencePercent) >= IMMATERIAL_PERCENT;
  const verdict = verdictOf();
  return { value, standardError: value * logError, interval95, expected, differencePercent, verdict, text: said() };

  function verdictOf(): Verdict {
    if (doubted.length > 0) return 'unclear';
    if (outside) return material ? 'differs' : 'agrees';
    return (Math.exp(wide) - 1) * 100 > WIDE_PERCENT ? 'unclear' : 'agrees';
  }

  function said(): string {
    if (doubted.length > 0)
      return `not to be told from the handbook while the ${doubted.map((doubt) => doubt.of).join(' and the ')} is in doubt`;
    if (verdict === 'agrees')
      return `agrees with the handbook within ${outside ? `${IMMATERIAL_PERCENT} %` : 'the uncertainty'}`;
    if (verdict === 'unclear')
      return `too uncertain to tell from the handbook (within ${Math.round((Math.exp(wide) - 1) * 100)} %)`;
    const percent = Math.abs(differencePercent);
    return `${words(`${percent < 10 ? percent.toFixed(1) : Math.round(percent)} %`, differencePercent > 0)} than the handbook`;
  }
}

// Seeded low-altitude turbulence of Dryden form.
import { type RandomSource, randomSource } from './random.js';
import { clamp, M_PER_FT } from './units.js';

const LOWEST_FT = 10;
const HIGHEST_FT = 1_000;
const SQRT3 = Math.sqrt(3);

/** Gust at the aeroplane (m/s), along and across the runway frame and upwards. */
export interface Turbulence {
  alongMps: number;
  acrossMps: number;
  upMps: number;
  /** Moves on by a time (s) flown at a height (m above the runway) and true airspeed (m/s). */
  step(dtS: number, heightM: number, tasMps: number): void;
}

/**
 * Scale lengths (m) and standard deviations (m/s) at a height: Lw = h, Lu = Lv = h/(0.177 + 0.000823 h)^1.2,
 * σw = 0.1·W20, σu = σv = σw/(0.177 + 0.000823 h)^0.4, h in ft, held at the ends of 10 to 1000 ft.
 *
 * @param windAt20FtMps Mean wind at 20 ft (m/s).
 * @see MIL-F-8785C (1980), 3.7.3.4.
 */
export function turbulenceScales(heightM: number, windAt20FtMps: number) {
  const heightFt = clamp(heightM / M_PER_FT, LOWEST_FT, HIGHEST_FT);
  const base = 0.177 + 0.000823 * heightFt;
  const verticalSigmaMps = 0.1 * windAt20FtMps;
  return {
    verticalLengthM: heightFt * M_PER_FT,
    horizontalLengthM: (heightFt / base ** 1.2) * M_PER_FT,
    verticalSigmaMps,
    horizontalSigmaMps: verticalSigmaMps / base ** 0.4,
  };
}

/**
 * Turbulence of a seed. Longitudinal gusts are white noise through 1/(1 + Ls/V), the other two through
 * (1 + √3·Ls/V)/(1 + Ls/V)², both with exact discrete first-order sections. The horizontal pair is laid along and
 * across the runway rather than along and across the flight path: σ and L are the same for both, only which of the
 * two spectra shows differs. Below 10 ft all three fade out linearly towards the ground.
 *
 * @see MIL-F-8785C (1980), 3.7.1.2 for the spectra.
 */
export function turbulence(windAt20FtMps: number, seed: number): Turbulence {
  if (!(windAt20FtMps >= 0 && windAt20FtMps <= 60))
    throw new RangeError(`turbulence.windAt20FtKt must be 0 to 116 kt, got ${windAt20FtMps} m/s`);
  const random = randomSource(seed);
  const across = new SecondOrder(random);
  const up = new SecondOrder(random);
  let along = 0;
  return {
    alongMps: 0,
    acrossMps: 0,
    upMps: 0,
    step(dtS, heightM, tasMps) {
      const scales = turbulenceScales(heightM, windAt20FtMps);
      const horizontalRate = tasMps / scales.horizontalLengthM;
      const keep = Math.exp(-horizontalRate * dtS);
      along = keep * along + Math.sqrt(1 - keep * keep) * random.normal();
      const share = clamp(heightM / (LOWEST_FT * M_PER_FT), 0, 1);
      this.alongMps = share * scales.horizontalSigmaMps * along;
      this.acrossMps = share * scales.horizontalSigmaMps * across.next(horizontalRate, dtS);
      this.upMps = share * scales.verticalSigmaMps * up.next(tasMps / scales.verticalLengthM, dtS);
    },
  };
}

/** Unit-variance noise through (1 + √3·s/a)/(1 + s/a)² = √3·p + (1 - √3)·p², p = 1/(1 + s/a). */
class SecondOrder {
  private first = 0;
  private second = 0;
  constructor(private readonly random: RandomSource) {}

  next(rate: number, dtS: number): number {
    const keep = Math.exp(-rate * dtS);
    const before = this.first;
    this.first = keep * this.first + Math.sqrt((1 - keep * keep) / 2) * this.random.normal();
    this.second = keep * this.second + (1 - keep) * 0.5 * (before + this.first);
    return SQRT3 * this.first + (1 - SQRT3) * this.second;
  }
}

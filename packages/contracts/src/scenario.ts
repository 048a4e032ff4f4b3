// What an attempt is about: aeroplane, runway, weather, technique, failure and rubric, each by name, at one revision.
import { z } from 'zod';
import { Aircraft, PropellerState } from './aircraft.js';
import { identifier, quantity, shortText } from './quantities.js';
import { Rubric } from './rubric.js';
import { Runway } from './runway.js';
import { Technique } from './technique.js';
import { Weather } from './weather.js';

const failureHeightFt = quantity(50, 6000, 'ft above the runway');

export const FailureHeight = z.discriminatedUnion('choose', [
  z.strictObject({ choose: z.literal('fixed'), heightFt: failureHeightFt }),
  z.strictObject({ choose: z.literal('range'), lowestFt: failureHeightFt, highestFt: failureHeightFt }),
  z.strictObject({
    choose: z.literal('sealed-series'),
    lowestFt: failureHeightFt,
    highestFt: failureHeightFt,
    seed: z.int('must be a whole number').min(0, 'must be 0 or more'),
    /** Share of attempts without a failure, so that nobody learns to expect one. */
    noFailureShare: quantity(0, 0.9, ''),
  }),
]);
export type FailureHeight = z.infer<typeof FailureHeight>;

export const FailureKind = z.enum(['total', 'partial', 'surging', 'none'], 'must be total, partial, surging or none');
export type FailureKind = z.infer<typeof FailureKind>;

export const FailurePlan = z
  .strictObject({
    kind: FailureKind,
    height: FailureHeight,
    /** Power left after a partial failure; 0 for a total one. */
    powerFraction: quantity(0, 0.99, '').default(0),
    propeller: PropellerState.default('coarse'),
    /** Nothing fires above this height, whatever was drawn. */
    highestHeightFt: quantity(50, 8000, 'ft above the runway'),
  })
  .check((ctx) => {
    const { height, highestHeightFt } = ctx.value;
    if (height.choose !== 'fixed' && height.lowestFt > height.highestFt) {
      ctx.issues.push({
        code: 'custom',
        input: height.lowestFt,
        path: ['height', 'lowestFt'],
        message: `must not be above highestFt (${height.highestFt} ft)`,
      });
    }
    const top = height.choose === 'fixed' ? height.heightFt : height.highestFt;
    if (top > highestHeightFt) {
      ctx.issues.push({
        code: 'custom',
        input: highestHeightFt,
        path: ['highestHeightFt'],
        message: `must be at least the highest failure height (${top} ft)`,
      });
    }
  });
export type FailurePlan = z.infer<typeof FailurePlan>;

export const Practice = z.discriminatedUnion('from', [
  z.strictObject({ from: z.literal('runway') }),
  /** A floor stands in for the ground: height counts from it, and the attempt ends on reaching it. */
  z.strictObject({ from: z.literal('floor'), floorAltitudeFt: quantity(500, 20_000, 'ft') }),
]);
export type Practice = z.infer<typeof Practice>;

export const Scenario = z.strictObject({
  schemaVersion: z.literal(1),
  id: identifier,
  revision: z.int().min(1),
  name: shortText,
  briefing: z.string().max(2000).default(''),
  aircraftId: identifier,
  runwayId: identifier,
  weatherId: identifier,
  rubricId: identifier,
  technique: Technique,
  failure: FailurePlan,
  practice: Practice.default({ from: 'runway' }),
});
export type Scenario = z.infer<typeof Scenario>;

/** A scenario with full copies of all it names, so that a recording explains itself years later. */
export const ScenarioBundle = z.strictObject({
  scenario: Scenario,
  aircraft: Aircraft,
  runway: Runway,
  weather: Weather,
  rubric: Rubric,
});
export type ScenarioBundle = z.infer<typeof ScenarioBundle>;

/** The failure drawn for one attempt. */
export const DrawnFailure = z.strictObject({
  kind: FailureKind,
  heightFt: failureHeightFt.nullable().describe('null: this attempt has no failure'),
  powerFraction: quantity(0, 0.99, ''),
  propeller: PropellerState,
});
export type DrawnFailure = z.infer<typeof DrawnFailure>;

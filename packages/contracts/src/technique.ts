// How the pilot means to fly it: climb speed, delay, target speed, bank, side and margins.
import type { TechniqueNumbers } from '@stillprop/physics';
import { z } from 'zod';
import { quantity } from './quantities.js';

export const TurnChoice = z.enum(['best', 'left', 'right', 'ahead'], 'must be best, left, right or ahead');

export const Technique = z.strictObject({
  climbKcas: quantity(20, 200, 'kt'),
  delayS: quantity(0, 30, 's').default(3),
  targetKcas: quantity(20, 200, 'kt'),
  straightKcas: quantity(20, 200, 'kt').optional().describe('Speed on the straight leg; targetKcas when absent'),
  bankDeg: quantity(5, 70, 'degrees').default(45),
  turn: TurnChoice.default('best'),
  stallMargin: quantity(1, 2, '')
    .default(1.05)
    .describe('Least speed flown over the stall speed at the load factor then flown'),
  rollRateDegS: quantity(5, 90, 'degrees/s').default(30),
  minimumLoadFactor: quantity(0, 1, '').default(0.5),
  gearDownHeightFt: quantity(0, 5000, 'ft')
    .nullable()
    .default(200)
    .describe('Gear goes down through this height; null: not at all'),
  flapDownHeightFt: quantity(0, 5000, 'ft')
    .nullable()
    .default(null)
    .describe('Landing flap on final below this height; null: none'),
  alignKcas: quantity(20, 200, 'kt').optional().describe('Speed from the alignment on; targetKcas when absent'),
  alignBankDeg: quantity(3, 70, 'degrees')
    .optional()
    .describe('Bank the alignment is planned with; a share of bankDeg when absent'),
  alignTimeS: quantity(1, 10, 's')
    .optional()
    .describe('Time constant with which the alignment ends on the centreline; 2.5 s when absent'),
  turnEntryKcas: quantity(20, 200, 'kt')
    .optional()
    .describe('Speed at the beginning of the turn, from which it goes over to targetKcas; that when absent'),
  bankKept: z
    .boolean()
    .optional()
    .describe(
      'In the turn the bank stays and the nose drops where the margin leaves no level turn; else the bank yields',
    ),
  speedEased: z
    .boolean()
    .optional()
    .describe('From the turn on the speed falls with the height from straightKcas to alignKcas'),
  sideslipDragCoefficient: quantity(0, 0.08, '')
    .optional()
    .describe('Drag coefficient of the sideslip used to lose spare height on the way in; none when absent'),
}) satisfies z.ZodType<TechniqueNumbers>;
export type Technique = z.infer<typeof Technique>;

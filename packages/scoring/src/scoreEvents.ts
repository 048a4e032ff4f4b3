// The moments as they are listed and marked on charts, each with its height and a sentence.
import type { ScoreEvent, ScoreEventCode } from '@stillprop/contracts';
import type { Attempt } from './attempt.js';
import { valueAt } from './columns.js';
import { CONTROL_WORDS } from './criteria/delay.js';
import type { LossChannel } from './powerLost.js';
import { degrees, feet, feetPerMinute, knots, rounded, seconds } from './words.js';

const LOSS_WORDS: { readonly [channel in LossChannel]: string } = {
  power: '',
  rpm: ', seen from the engine speed',
  event: ', as the exercise saw it',
  command: ', taken from the command to fail the engine',
};

/** Events in the order of time. */
export function scoreEventsOf(attempt: Attempt): ScoreEvent[] {
  const { flight, moments, touchdown } = attempt;
  const events: ScoreEvent[] = [];
  const height = (atS: number) => valueAt(flight.timeS, flight.heightFt, atS);
  const add = (code: ScoreEventCode, atS: number | null, text: (atS: number) => string) => {
    if (atS === null || flight.count === 0) return;
    events.push({ code, atS: rounded(atS), heightFt: rounded(height(atS), 1), text: text(atS) });
  };
  const speed = (atS: number) => knots(valueAt(flight.timeS, flight.iasKt, atS));
  const bank = (atS: number) => degrees(Math.abs(valueAt(flight.timeS, flight.bankSmoothDeg, atS)));
  const side = moments.turn?.side === -1 ? 'left' : 'right';
  const { lossS, control } = moments;
  const overFloor = attempt.recording.header.scenario.practice.from === 'floor';
  add('lift-off', moments.liftOffS, (atS) => `Lift-off at ${speed(atS)}.`);
  add(
    'power-lost',
    lossS,
    (atS) => `Power lost at ${feet(height(atS))} and ${speed(atS)}${LOSS_WORDS[moments.lossChannel ?? 'power']}.`,
  );
  if (lossS !== null && control !== null)
    add('first-action', moments.firstActionS, (atS) =>
      moments.early
        ? `First action ${seconds(lossS - atS)} before the power was lost: ${CONTROL_WORDS[control]}.`
        : `First action ${seconds(atS - lossS)} after the power was lost: ${CONTROL_WORDS[control]}.`,
    );
  add('push-complete', moments.pushCompleteS, (atS) => `Nose down, ${speed(atS)}.`);
  add('bank-established', moments.bankEstablishedS, (atS) => `Bank established: ${bank(atS)} ${side}.`);
  add('turned-90', moments.turn?.turned90S ?? null, (atS) => `90° turned, ${feet(height(atS))} left.`);
  add('turned-180', moments.turn?.turned180S ?? null, (atS) => `180° turned, ${feet(height(atS))} left.`);
  add('wings-level', moments.wingsLevelS, (atS) => `Wings level after the turn at ${feet(height(atS))}.`);
  add('aligned', moments.alignedS, (atS) => `Along the runway from ${feet(height(atS))} down.`);
  add('gear-down', moments.gearDownS, (atS) => `Gear down at ${feet(height(atS))}.`);
  add('flap-down', moments.flapDownS, (atS) => `Flap down at ${feet(height(atS))}.`);
  add('flare', moments.flareS, (atS) => `Flare from ${feet(height(atS))}.`);
  add('contact', moments.contactS, () =>
    touchdown === null
      ? overFloor
        ? 'The floor is reached.'
        : 'Contact with the ground.'
      : !touchdown.seen
        ? 'Contact with the ground, in a gap of the data.'
        : `Contact at ${feetPerMinute(touchdown.sinkFpm)} of sink and ${knots(touchdown.iasKt)}.`,
  );
  if (moments.lastContactS !== moments.contactS)
    add('last-contact', moments.lastContactS, () => 'Down for good after a bounce.');
  add('stopped', moments.stoppedS, () => 'Stopped.');
  return events.sort((a, b) => a.atS - b.atS);
}

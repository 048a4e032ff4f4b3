// Touchdown: how near the aim point, how gently; ahead: wings level, gently and slowly.
import type { Attempt } from '../attempt.js';
import type { Landing, Touchdown } from '../touchdown.js';
import { unmeasuredOf } from '../unmeasured.js';
import { degrees, feet, feetPerMinute, knots, ratio, rounded, roundedOrNull } from '../words.js';
import { AHEAD_DEFAULT } from './bank.js';
import { type Marked, marks, notMeasured } from './marks.js';

/** Shares of the marks. A return: place and sink; the place counts as its worse direction, and not off the runway. */
const PLACE_SHARE = 0.7;
const SINK_SHARE = 0.3;
/** Ahead: each of wings, sink and speed alike. */
const AHEAD_SHARE = 1 / 3;

/** Ends the sentence about a contact that was an impact. */
const CRASHED = ': an impact, which earns nothing.';

/** Marks for the touchdown, by the kind of attempt flown. */
export function touchdownCriterion(attempt: Attempt): Marked {
  return attempt.kind === 'ahead' ? touchdownAhead(attempt) : touchdownOnRunway(attempt);
}

/**
 * A return: distance from the aim point of the runway end landed on (after a turn-back the far end of the take-off
 * runway), short and long apart, and off the centreline: the worse of the two is 70 % of the marks, and none of them
 * off the runway; the sink at contact is 30 %. A crash has no marks. Whether it could stop is a finding.
 */
function touchdownOnRunway({ recording, moments, touchdown }: Attempt): Marked {
  const rubric = recording.header.rubric.touchdown;
  const band = { from: -rubric.fullShortFt || 0, to: rubric.fullLongFt };
  const absent = (text: string) => notMeasured(0, 'ft', band, text);
  if (moments.lossS === null) return absent('Not measured: no loss of power in this recording.');
  if (recording.header.scenario.practice.from === 'floor')
    return absent('Not measured: practice over a floor ends above the ground.');
  if (touchdown === null) return absent('Not measured: the recording ends before the touchdown.');
  const { landing } = touchdown;
  if (landing === null) return absent('Not measured: the runway has no position to measure from.');
  const along =
    landing.fromAimFt >= 0
      ? marks(landing.fromAimFt, rubric.fullLongFt, rubric.zeroLongFt)
      : marks(-landing.fromAimFt, rubric.fullShortFt, rubric.zeroShortFt);
  const across = marks(Math.abs(landing.acrossFt), rubric.fullAcrossFt, rubric.zeroAcrossFt);
  const sink = marks(touchdown.sinkFpm, rubric.fullSinkFpm, rubric.zeroSinkFpm);
  const place = landing.onRunway ? Math.min(along, across) : 0;
  if (!touchdown.seen || unmeasuredOf(recording, ['verticalSpeedFpm']).length > 0)
    return {
      ...absent(`${placeSentence(landing)} Sink at contact is not measured.${stopSentence(touchdown)}`),
      score: place,
      measured: rounded(landing.fromAimFt, 0),
      atS: touchdown.atS,
      details: { ...details(touchdown), sinkFpm: null, bankDeg: null, indicatedAirspeedKt: null },
    };
  return {
    score: touchdown.crashed ? 0 : PLACE_SHARE * place + SINK_SHARE * sink,
    measured: rounded(landing.fromAimFt, 0),
    target: 0,
    unit: 'ft',
    band,
    atS: touchdown.atS,
    text: `${placeSentence(landing)} Sink at contact ${feetPerMinute(touchdown.sinkFpm)}${touchdown.crashed ? CRASHED : `.${stopSentence(touchdown)}`}`,
    details: details(touchdown),
  };
}

/** Landing ahead: the point does not count; wings, sink and speed over the stall speed count alike. A crash has no marks. */
function touchdownAhead({ recording, moments, touchdown }: Attempt): Marked {
  const { touchdown: rubric, ahead = AHEAD_DEFAULT } = recording.header.rubric;
  const band = { from: null, to: rubric.fullSinkFpm };
  const absent = (text: string) => notMeasured(rubric.fullSinkFpm, 'ft/min', band, text);
  if (moments.lossS === null) return absent('Not measured: no loss of power in this recording.');
  if (recording.header.scenario.practice.from === 'floor')
    return absent('Not measured: practice over a floor ends above the ground.');
  if (touchdown === null) return absent('Not measured: the recording ends before the touchdown.');
  if (unmeasuredOf(recording, ['verticalSpeedFpm', 'bankDeg', 'indicatedAirspeedKt']).length > 0)
    return absent('Not measured: the track log tells neither the sink, the bank nor the airspeed at contact.');
  if (!touchdown.seen) return absent('Not measured: the data has a gap at the contact.');
  const wings = marks(Math.abs(touchdown.bankDeg), ahead.fullContactBankDeg, ahead.zeroContactBankDeg);
  const sink = marks(touchdown.sinkFpm, rubric.fullSinkFpm, rubric.zeroSinkFpm);
  const speed = marks(touchdown.stallSpeedRatio, ahead.fullStallSpeedRatio, ahead.zeroStallSpeedRatio);
  return {
    score: touchdown.crashed ? 0 : AHEAD_SHARE * (wings + sink + speed),
    measured: rounded(touchdown.sinkFpm, 0),
    target: rubric.fullSinkFpm,
    unit: 'ft/min',
    band,
    atS: touchdown.atS,
    text: `Down ahead with ${degrees(Math.abs(touchdown.bankDeg))} of bank, sinking ${feetPerMinute(touchdown.sinkFpm)}, at ${knots(touchdown.iasKt)}: ${ratio(touchdown.stallSpeedRatio)} times the stall speed${touchdown.crashed ? CRASHED : '.'}`,
    details: { ...details(touchdown), stallSpeedRatio: rounded(touchdown.stallSpeedRatio) },
  };
}

function placeSentence(landing: Landing): string {
  const along = `${feet(Math.abs(landing.fromAimFt))} ${landing.fromAimFt < 0 ? 'short of' : 'beyond'} the aim point`;
  const right = landing.acrossFt * landing.direction > 0;
  const off = Math.abs(landing.acrossFt);
  const across = off < 1 ? 'on the centreline' : `${feet(off)} ${right ? 'right' : 'left'} of the centreline`;
  return `Down ${along} and ${across}${landing.onRunway ? '' : ', off the runway'}.`;
}

function stopSentence({ stopMarginFt, stopSeen }: Touchdown): string {
  if (stopMarginFt === null) return '';
  if (stopMarginFt < 0) return ` Stopping needs ${feet(-stopMarginFt)} more than the runway has.`;
  return stopSeen
    ? ` Stopped with ${feet(stopMarginFt)} of runway left.`
    : ` By the handbook it stops with ${feet(stopMarginFt)} of runway left.`;
}

function details(touchdown: Touchdown): Marked['details'] {
  const { landing } = touchdown;
  return {
    alongFt: roundedOrNull(landing?.alongFt, 1),
    acrossFt: roundedOrNull(landing?.acrossFt, 1),
    pastThresholdFt: roundedOrNull(landing?.pastThresholdFt, 1),
    fromAimFt: roundedOrNull(landing?.fromAimFt, 1),
    sinkFpm: rounded(touchdown.sinkFpm, 0),
    bankDeg: rounded(touchdown.bankDeg, 1),
    offRunwayDeg: roundedOrNull(touchdown.offRunwayDeg, 1),
    indicatedAirspeedKt: rounded(touchdown.iasKt, 1),
    groundspeedKt: roundedOrNull(touchdown.groundspeedKt, 1),
    rollFt: roundedOrNull(touchdown.rollFt, 0),
    stopMarginFt: roundedOrNull(touchdown.stopMarginFt, 0),
  };
}

// What stands beside the marks: faults, cautions and notes, each with its moment, its figures and its cap.
import type { Finding, FindingCode, FlownOutcome, Severity, Verdict } from '@stillprop/contracts';
import { aboutRecording } from './aboutRecording.js';
import type { Attempt } from './attempt.js';
import { valueAt } from './columns.js';
import { dataGaps } from './dataGaps.js';
import { lowTurn } from './lowTurn.js';
import { notFlownOut } from './notFlownOut.js';
import { BANK_LIMIT_DEG, TRACK_LIMIT_DEG } from './outcome.js';
import { didNotObey } from './powerLost.js';
import { crashSinkFpm } from './touchdown.js';
import { capitalised, degrees, feet, feetPerMinute, ratio, rounded, seconds } from './words.js';

/** Gear counts as down from here. */
const GEAR_DOWN = 0.9;

/** Caps that hold where a rubric states none of its own: the ones of the standard rubric. */
const DEFAULT_CAPS: Partial<Readonly<Record<FindingCode, number>>> = { crash: 10, 'off-airfield': 40 };

interface Raw {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly atS: number | null;
  readonly text: string;
}

/** All findings of an attempt: faults first, each group in the order of time. Only faults carry the rubric's cap. */
export function findingsOf(attempt: Attempt, verdict: Verdict, outcome: FlownOutcome): Finding[] {
  const { caps } = attempt.recording.header.rubric;
  const raw = [
    ...(attempt.moments.lossS === null ? withoutFailure(attempt) : afterFailure(attempt, verdict, outcome)),
    ...aboutRecording(attempt).map((note): Raw => ({ severity: 'note', ...note })),
    ...dataGaps(attempt).map(({ atS, text }): Raw => ({ code: 'data-gap', severity: 'caution', atS, text })),
  ];
  const rank = { fault: 0, caution: 1, note: 2 };
  return raw
    .sort((a, b) => rank[a.severity] - rank[b.severity] || (a.atS ?? 0) - (b.atS ?? 0))
    .map(({ code, severity, atS, text }) => {
      const cap = severity === 'fault' ? (caps[code] ?? DEFAULT_CAPS[code]) : undefined;
      const finding = { code, severity, atS: atS === null ? null : rounded(atS), text };
      return cap === undefined ? finding : { ...finding, cap };
    });
}

function withoutFailure({ recording }: Attempt): Raw[] {
  const disobeyed = didNotObey(recording);
  const text =
    recording.header.drawn.kind === 'none'
      ? 'No failure was drawn for this attempt: climbing on was right.'
      : disobeyed !== undefined
        ? 'The simulator did not obey the command to fail the engine: no power was lost, and nothing can be scored.'
        : 'The power was not lost in this recording, so there is nothing to score.';
  return [{ code: 'no-failure', severity: 'note', atS: disobeyed?.timeS ?? null, text }];
}

function afterFailure(attempt: Attempt, verdict: Verdict, outcome: FlownOutcome): Raw[] {
  return [
    ...reactionFindings(attempt),
    ...stallFindings(attempt),
    ...decisionFindings(attempt, verdict, outcome),
    ...lowTurnFinding(attempt),
    ...contactFindings(attempt),
    ...notFlownOutFinding(attempt),
  ];
}

function reactionFindings({ recording, moments }: Attempt): Raw[] {
  const { lossS, firstActionS, contactS, endS } = moments;
  const { rubric, drawn } = recording.header;
  if (lossS === null) return [];
  if (moments.early && firstActionS !== null)
    return [
      {
        code: 'reacted-early',
        severity: 'caution',
        atS: firstActionS,
        text: `You began to ${moments.control === 'nose-down' ? 'lower the nose' : 'bank'} ${seconds(lossS - firstActionS)} before the power was lost. Fly the climb until you feel the loss.`,
      },
    ];
  const waitedS = (contactS ?? endS) - lossS;
  const mayWait = contactS === null && (drawn.kind !== 'total' || waitedS < rubric.delay.zeroAtS);
  if (firstActionS !== null || mayWait) return [];
  return [
    {
      code: 'no-action',
      severity: 'fault',
      atS: lossS,
      text: `No decisive action in the ${seconds(waitedS)} after the power was lost. Lower the nose first, whatever you decide then.`,
    },
  ];
}

function stallFindings({ flight, stall }: Attempt): Raw[] {
  const at = (atS: number) =>
    `${feet(valueAt(flight.timeS, flight.heightFt, atS))}, with ${degrees(Math.abs(valueAt(flight.timeS, flight.bankSmoothDeg, atS)))} of bank at ${Math.round(valueAt(flight.timeS, flight.iasKt, atS))} kt`;
  if (stall.stalledAtS !== null)
    return [
      {
        code: 'stall',
        severity: 'fault',
        atS: stall.stalledAtS,
        text: `The wing stalled at ${at(stall.stalledAtS)}. Ease the pull and take off bank before the speed runs out.`,
      },
    ];
  if (stall.warning === null) return [];
  const margin =
    stall.leastMargin === null ? '' : ` The least speed over the stall speed was ${ratio(stall.leastMargin)}.`;
  return [
    {
      code: 'stall-warning',
      severity: 'caution',
      atS: stall.warning.atS,
      text: `The stall warning sounded for ${seconds(stall.warning.lastsS)} at ${at(stall.warning.atS)}.${margin}`,
    },
  ];
}

function decisionFindings({ moments, kind, touchdown }: Attempt, verdict: Verdict, outcome: FlownOutcome): Raw[] {
  const { firstActionS, lossS } = moments;
  const { hadFt, neededFt, returnExisted } = verdict;
  if (lossS === null || hadFt === null || firstActionS === null) return [];
  const needed = neededFt === null ? 'the model finds no return' : `a return needed ${feet(neededFt)}`;
  if (kind === 'return') {
    // Too high is not without a return: spare height can be lost.
    const tooHigh = neededFt !== null && hadFt >= neededFt;
    if (returnExisted !== false || tooHigh || moments.turn?.side === null) return [];
    const worked = outcome === 'stopped-on-runway';
    const advice = worked ? 'It worked this time with nothing in hand.' : 'Land ahead from there.';
    return [
      {
        code: 'turned-back-without-return',
        severity: worked ? 'caution' : 'fault',
        atS: firstActionS,
        text: `You turned back from ${feet(hadFt)}, where ${needed}. ${advice}`,
      },
    ];
  }
  if (touchdown === null) return [];
  const why = returnExisted === false ? `, where ${needed}: the right choice` : '';
  const landed: Raw = {
    code: 'landed-ahead',
    severity: 'note',
    atS: touchdown.atS,
    text: `You ${outcome === 'landed-ahead' || outcome === 'stopped-on-runway' ? 'landed' : 'went'} ahead after a loss of power at ${feet(hadFt)}${why}.`,
  };
  if (returnExisted !== true) return [landed];
  const open = neededFt === null ? '' : `: ${feet(neededFt)} were needed and there were ${feet(hadFt)}`;
  return [
    landed,
    {
      code: 'return-was-open',
      severity: 'note',
      atS: lossS,
      text: `By the model a return was open${open}. Landing ahead is no fault.`,
    },
  ];
}

function lowTurnFinding(attempt: Attempt): Raw[] {
  const low = lowTurn(attempt);
  if (low === null) return [];
  const { wingsLevelHeightFt } = attempt.recording.header.rubric;
  const { scenario } = attempt.recording.header;
  const above = scenario.practice.from === 'floor' ? 'the floor' : 'the runway';
  return [
    {
      code: 'low-turn',
      severity: low.steep ? 'fault' : 'caution',
      atS: low.atS,
      text: `Still turning at ${feet(low.heightFt)} above ${above}, with ${degrees(low.bankDeg)} of bank. Have the wings level by ${feet(wingsLevelHeightFt)}.`,
    },
  ];
}

function notFlownOutFinding(attempt: Attempt): Raw[] {
  const found = notFlownOut(attempt);
  return found === null ? [] : [{ code: 'not-flown-out', severity: 'caution', ...found }];
}

function contactFindings({ recording, touchdown, kind }: Attempt): Raw[] {
  if (touchdown === null) return [];
  const { rubric, aircraft, runway } = recording.header;
  const { atS, landing, offRunwayDeg, stopMarginFt } = touchdown;
  const found: Raw[] = [];
  const add = (code: FindingCode, text: string) => found.push({ code, severity: 'fault', atS, text });
  if (touchdown.seen && Math.abs(touchdown.bankDeg) > BANK_LIMIT_DEG)
    add(
      'bank-at-contact',
      `${degrees(Math.abs(touchdown.bankDeg))} of ${touchdown.bankDeg > 0 ? 'right' : 'left'} bank at contact: at most ${degrees(BANK_LIMIT_DEG)}, or a wing strikes first.`,
    );
  if (touchdown.crashed)
    add(
      'crash',
      `No landing anyone walks away from: ${feetPerMinute(touchdown.sinkFpm)} of sink at contact, and this rubric counts ${feetPerMinute(crashSinkFpm(rubric))} or more as a crash. Keep the speed for a flare.`,
    );
  else if (touchdown.seen && touchdown.sinkFpm >= rubric.touchdown.zeroSinkFpm)
    add(
      'hard-contact',
      `Hard contact: ${feetPerMinute(touchdown.sinkFpm)} of sink, where up to ${feetPerMinute(rubric.touchdown.fullSinkFpm)} is gentle. Keep the speed for a flare.`,
    );
  if (kind === 'ahead' && !landing?.onRunway) return found;
  if (landing !== null && !landing.onRunway) {
    const where = offRunwayText(landing, runway);
    if (landing.onAirfield) add('off-runway', capitalised(where));
    else add('off-airfield', `Outside the airfield: ${where}`);
  }
  if (landing?.onAirfield !== false && offRunwayDeg !== null && offRunwayDeg > TRACK_LIMIT_DEG)
    add(
      'not-aligned',
      `Not along the runway at contact: the track was ${degrees(offRunwayDeg)} off it, where ${degrees(TRACK_LIMIT_DEG)} is the limit.`,
    );
  if (stopMarginFt !== null && stopMarginFt < 0)
    found.push({
      code: 'overrun',
      severity: kind === 'ahead' ? 'caution' : 'fault',
      atS,
      text: `Too far along to stop: ${feet(-stopMarginFt)} more runway would have been needed.`,
    });
  if (
    landing?.onRunway !== false &&
    aircraft.gearDragCoefficient > 0 &&
    touchdown.gearFraction !== null &&
    touchdown.gearFraction < GEAR_DOWN
  )
    add('gear-up', 'Gear not down at contact with the runway. Lower it once the runway is certain.');
  return found;
}

function offRunwayText(
  landing: NonNullable<NonNullable<Attempt['touchdown']>['landing']>,
  runway: { lengthFt: number; widthFt: number },
): string {
  const parts: string[] = [];
  const some = (distanceFt: number) => (distanceFt < 1 ? 'less than 1 ft' : feet(distanceFt));
  if (landing.pastThresholdFt < 0) parts.push(`${some(-landing.pastThresholdFt)} short of the runway`);
  if (landing.pastThresholdFt > runway.lengthFt)
    parts.push(`${some(landing.pastThresholdFt - runway.lengthFt)} beyond the end of the runway`);
  const beside = Math.abs(landing.acrossFt) - runway.widthFt / 2;
  if (beside > 0) parts.push(`${some(beside)} beside ${parts.length === 0 ? 'the edge of the runway' : 'its edge'}`);
  return `${parts.join(' and ')} at contact.`;
}

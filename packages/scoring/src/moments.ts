// Every moment of an attempt that the score rests on, in the recording's seconds.
import { alignBegins, alignedFrom, comesDown, flareBegins, pushComplete } from './approach.js';
import { type Control, earlyAction, firstAction } from './firstAction.js';
import type { Flight } from './flight.js';
import { contactsAfter, firstAirborne, liftOffBefore } from './groundContact.js';
import { type LossChannel, powerLost } from './powerLost.js';
import { firstTurn, type TurnFlown, turnFlown } from './turnFlown.js';

export interface Moments {
  readonly endS: number;
  readonly liftOffS: number | null;
  readonly lossS: number | null;
  readonly lossChannel: LossChannel | null;
  readonly firstActionS: number | null;
  readonly control: Control | null;
  /** The first action lies in a gap of the data and may have been so much earlier or later (s); null: it was seen. */
  readonly actionGiveOrTakeS: number | null;
  /** The first action had begun before the loss. */
  readonly early: boolean;
  readonly turn: TurnFlown | null;
  readonly pushCompleteS: number | null;
  readonly bankEstablishedS: number | null;
  readonly bankEndsS: number | null;
  readonly wingsLevelS: number | null;
  readonly alignBeginsS: number | null;
  readonly alignedS: number | null;
  readonly gearDownS: number | null;
  readonly flapDownS: number | null;
  readonly flareS: number | null;
  readonly contactS: number | null;
  readonly lastContactS: number | null;
  readonly stoppedS: number | null;
  /** The attempt ended with the power restored or a go-around. */
  readonly powerBack: boolean;
}

/** Finds every moment; each is null when the recording does not hold it. Definitions stand with the finders. */
export function momentsOf(flight: Flight): Moments {
  const endS = flight.timeS[flight.count - 1] ?? 0;
  const airborneS = firstAirborne(flight);
  const loss = airborneS === null ? null : powerLost(flight, airborneS);
  const liftOffS = liftOffBefore(flight, loss?.atS ?? endS);
  if (loss === null) return withoutLoss(flight, endS, liftOffS);
  const lossS = loss.atS;
  const goesOnS = goesOnAfter(flight, lossS);
  const landed = contactsAfter(flight, lossS);
  const contacts = landed !== null && landed.contactS > (goesOnS ?? endS) ? null : landed;
  const contactS = contacts?.contactS ?? null;
  const toS = contactS ?? Math.min(endS, goesOnS ?? endS);
  const turn = turnFlown(flight, lossS, toS, contactS !== null);
  const beganS = liftOffS ?? flight.timeS[0] ?? 0;
  const early = earlyAction(flight, beganS, lossS);
  const action = early ?? firstAction(flight, beganS, lossS, toS, turn.kind === 'return' ? turn.side : null);
  const actionS = action?.atS ?? null;
  const first =
    actionS === null || turn.kind === 'ahead'
      ? { establishedS: null, endsS: null, wingsLevelS: null }
      : firstTurn(flight, turn, Math.max(actionS, lossS), toS);
  const flareS = contacts === null ? null : flareBegins(flight, Math.max(actionS ?? lossS, lossS), toS);
  const overRunway = flight.recording.header.scenario.practice.from === 'runway';
  const alignedS =
    first.wingsLevelS === null || contactS === null || !overRunway
      ? null
      : alignedFrom(flight, first.wingsLevelS, contactS);
  return {
    endS: contactS === null ? toS : (contacts?.awayS ?? endS),
    liftOffS,
    lossS,
    lossChannel: loss.channel,
    firstActionS: actionS,
    control: action?.control ?? null,
    actionGiveOrTakeS: action?.giveOrTakeS ?? null,
    early: early !== null,
    turn,
    pushCompleteS: actionS === null ? null : pushComplete(flight, Math.max(actionS, lossS), toS),
    bankEstablishedS: first.establishedS,
    bankEndsS: first.endsS,
    wingsLevelS: first.wingsLevelS,
    alignBeginsS:
      first.wingsLevelS === null
        ? null
        : alignBegins(flight, first.wingsLevelS, Math.min(alignedS ?? toS, flareS ?? toS)),
    alignedS,
    gearDownS: comesDown(flight, flight.gearFraction, lossS, toS),
    flapDownS: comesDown(flight, flight.flapFraction, lossS, toS),
    flareS,
    contactS,
    lastContactS: contacts?.lastContactS ?? null,
    stoppedS: contacts?.stoppedS ?? null,
    powerBack: contactS === null && goesOnS !== null,
  };
}

/** When the power came back or the pilot went around: what follows is no longer the attempt. */
function goesOnAfter(flight: Flight, lossS: number): number | null {
  const ends = (code: string) => code === 'restored' || code === 'go-around';
  return (
    flight.recording.events.find(({ code, timeS }) => ends(code) && timeS !== null && timeS > lossS)?.timeS ?? null
  );
}

function withoutLoss(flight: Flight, endS: number, liftOffS: number | null): Moments {
  const contacts = contactsAfter(flight, liftOffS ?? endS);
  return {
    endS,
    liftOffS,
    lossS: null,
    lossChannel: null,
    firstActionS: null,
    control: null,
    actionGiveOrTakeS: null,
    early: false,
    turn: null,
    pushCompleteS: null,
    bankEstablishedS: null,
    bankEndsS: null,
    wingsLevelS: null,
    alignBeginsS: null,
    alignedS: null,
    gearDownS: null,
    flapDownS: null,
    flareS: null,
    contactS: contacts?.contactS ?? null,
    lastContactS: contacts?.lastContactS ?? null,
    stoppedS: contacts?.stoppedS ?? null,
    powerBack: false,
  };
}

// Wall time passing: the link falls silent, and at last counts as lost.
import { change, close, type Draft, record } from './draft.js';
import { staleAfterS } from './intake.js';

const LOST_AFTER_S = 30;
const LOST_BEFORE_LIFT_OFF_AFTER_S = 600;
/** After the aeroplane touched the ground, a simulator that falls silent has ended its flight. */
const OVER_AFTER_CONTACT_S = 3;
const SILENCES_TOLD = 20;

export function onTick(draft: Draft, nowS: number): void {
  const { name, intake, openedS, everLiftedOff, contact, setup } = draft.state;
  if (name === 'idle' || name === 'closed') return;
  const quietS = nowS - (intake.heardS ?? openedS ?? nowS);
  if (!intake.silent && quietS > staleAfterS(setup)) {
    const silences = intake.silences + 1;
    change(draft, { intake: { ...intake, silent: true, silences } });
    if (silences <= SILENCES_TOLD) record(draft, 'link-silent', 'No data arrive.');
  }
  if (contact !== null && quietS > OVER_AFTER_CONTACT_S) {
    close(draft, 'stopped', 'The simulator fell silent after the aeroplane touched the ground.');
  } else if (quietS > (everLiftedOff ? LOST_AFTER_S : LOST_BEFORE_LIFT_OFF_AFTER_S)) {
    close(draft, 'link-lost', `No data for ${Math.round(quietS)} s.`);
  }
}

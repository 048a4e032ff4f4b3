// Looks once a second for channels in a wrong unit; tells in the recording, once each, what it finds often enough.
import type { Sample } from '@stillprop/contracts';
import { change, type Draft, record } from './draft.js';
import { standingDoubts } from './standingDoubt.js';
import type { DoubtName, Intake } from './states.js';
import { unitDoubts } from './unitDoubts.js';

const LOOK_EVERY_S = 1;
/** Looks in a row before a doubt is told. */
const TOLD_AFTER = 3;
/** These say that nobody knows how high the aeroplane is. */
const OF_HEIGHT: readonly DoubtName[] = ['altitude', 'height', 'vertical-speed'];

export function doubtUnits(draft: Draft, sample: Sample): void {
  look(draft, sample);
  const { everLiftedOff, intake } = draft.state;
  if (!everLiftedOff) return; // a simulator that is being set up looks wrong and is not recorded yet
  const { standing, recorded } = intake.doubts;
  const untold = standing.filter(({ name }) => !recorded.includes(name));
  if (untold.length === 0) return;
  const names = [...recorded, ...untold.map(({ name }) => name)];
  change(draft, { intake: { ...intake, doubts: { ...intake.doubts, recorded: names } } });
  for (const { text, next, figures } of untold) record(draft, 'data-fault', `${text} ${next}`, figures);
}

/** Height itself is in doubt just now: no power is taken on such data. */
export function heightInDoubt({ doubts }: Pick<Intake, 'doubts'>): boolean {
  const standing = doubts.standing.some(({ name }) => OF_HEIGHT.includes(name));
  return standing || OF_HEIGHT.some((name) => (doubts.runs[name] ?? 0) > 0);
}

function look(draft: Draft, sample: Sample): void {
  const { setup, intake, everLiftedOff, onGroundSinceS, contact } = draft.state;
  const { doubts } = intake;
  if (doubts.lookedS !== null && sample.timeS - doubts.lookedS < LOOK_EVERY_S) return;
  const airborne = everLiftedOff && onGroundSinceS === null && contact === null;
  const onGround = !everLiftedOff && onGroundSinceS !== null ? standingDoubts(setup, sample) : [];
  const all = [...unitDoubts(setup, intake.moments, airborne), ...onGround];
  const found = all.filter(({ name }, index) => all.findIndex((each) => each.name === name) === index);
  const runs = Object.fromEntries(found.map(({ name }) => [name, (doubts.runs[name] ?? 0) + 1]));
  const fresh = found.filter(
    ({ name }) => (runs[name] ?? 0) >= TOLD_AFTER && !doubts.standing.some((old) => old.name === name),
  );
  const flying = everLiftedOff || onGroundSinceS === null; // what the ground showed is not taken back by the air
  const kept = doubts.standing.filter(({ name }) => flying || name in runs);
  const next = { lookedS: sample.timeS, runs, standing: [...kept, ...fresh], recorded: doubts.recorded };
  change(draft, { intake: { ...intake, doubts: next } });
}

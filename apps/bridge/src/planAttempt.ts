// What an attempt begins with: the failure drawn, the header of its recording, and all that the exercise must know.
import { randomInt, randomUUID } from 'node:crypto';
import { RECORDING_FORMAT, RECORDING_VERSION, type RecordingHeader, type StationCommand } from '@stillprop/contracts';
import { drawFailure, type ExerciseSetup, type MeasuredLatency } from '@stillprop/exercise';
import { derivedChannels, type FlownTogether, linkCommands } from '@stillprop/links';

const SEED_BELOW = 2 ** 31 - 1;

export function randomSeed(): number {
  return randomInt(SEED_BELOW);
}

/** @param measuredLatency Of earlier failures on this link; null: there were none to go by. */
export function planAttempt(
  station: string,
  profiles: FlownTogether,
  command: Extract<StationCommand, { command: 'arm' }>,
  measuredLatency: MeasuredLatency | null,
): { readonly header: RecordingHeader; readonly setup: ExerciseSetup } {
  const { bundle, student, seed = randomSeed(), seriesIndex = 0 } = command;
  const [lead] = profiles;
  const drawn = drawFailure(bundle.scenario.failure, seed, seriesIndex);
  const derived = derivedChannels(profiles);
  const header: RecordingHeader = {
    kind: 'header',
    format: RECORDING_FORMAT,
    version: RECORDING_VERSION,
    attemptId: randomUUID(),
    startedAt: new Date().toISOString(),
    station,
    student,
    ...bundle,
    drawn,
    link: lead.id,
    ...(profiles.length > 1 ? { links: profiles.map(({ id }) => id) } : {}),
    ...(derived.length > 0 ? { derived } : {}),
    ...(lead.timeSource === 'arrival' ? { timeSource: 'arrival' } : {}),
  };
  const setup: ExerciseSetup = {
    ...bundle,
    drawn,
    seed,
    commands: linkCommands(lead),
    expectedRateHz: lead.expectedRateHz,
    commandLatencyS: lead.commandLatencyS,
    noFailureCommand: lead.commands?.noFailureCommand,
    measuredLatency,
  };
  return { header, setup };
}

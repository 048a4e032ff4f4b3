// Doubts about an aeroplane's numbers, said wherever something is computed with them.
import { type AircraftNumbers, derivedFigures, type HandbookWarning } from '@stillprop/physics';
import { wrap } from './sheet.js';

/** Where handbook numbers contradict each other. The numbers must have passed the door of the physics. */
export function warningsOf(aircraft: AircraftNumbers): readonly HandbookWarning[] {
  return derivedFigures(aircraft).warnings;
}

/** A block of lines with an empty one after it; nothing where there is no doubt. */
export function warningLines(warnings: readonly HandbookWarning[]): string[] {
  if (warnings.length === 0) return [];
  return [
    'DOUBTFUL NUMBERS: whatever is computed from them is as doubtful',
    ...warnings.flatMap(({ field, message }) => wrap(`  ${field}: ${message}.`, 4)),
    '',
  ];
}

/** For answers that leave no room for them on stdout. */
export function warnOnStderr(warnings: readonly HandbookWarning[]): void {
  for (const { field, message } of warnings) console.error(`stillprop: doubtful: ${field}: ${message}`);
}

// Doubts about an aeroplane's numbers and about the technique, said wherever something is computed with them.
import { derivedFigures, type FlyRequest, type HandbookWarning, techniqueWarnings } from '@stillprop/physics';
import { wrap } from './sheet.js';

/** Where handbook numbers contradict each other, or the technique its own speed. The request must have passed the door of the physics. */
export function warningsOf(request: FlyRequest): readonly HandbookWarning[] {
  return [...derivedFigures(request.aircraft).warnings, ...techniqueWarnings(request)];
}

/** A block of lines with an empty one after it; nothing where there is no doubt. */
export function warningLines(warnings: readonly HandbookWarning[]): string[] {
  const ofNumbers = warnings.filter((warning) => !isOfTechnique(warning));
  const ofTechnique = warnings.filter(isOfTechnique);
  return [
    ...block('DOUBTFUL NUMBERS: whatever is computed from them is as doubtful', ofNumbers),
    ...block('CAUTION, TECHNIQUE', ofTechnique),
  ];
}

function block(heading: string, warnings: readonly HandbookWarning[]): string[] {
  if (warnings.length === 0) return [];
  return [heading, ...warnings.flatMap(({ field, message }) => wrap(`  ${field}: ${message}.`, 4)), ''];
}

const isOfTechnique = ({ field }: HandbookWarning) => field.startsWith('technique.');

/** For answers that leave no room for them on stdout. */
export function warnOnStderr(warnings: readonly HandbookWarning[]): void {
  for (const warning of warnings)
    console.error(
      `stillprop: ${isOfTechnique(warning) ? 'caution' : 'doubtful'}: ${warning.field}: ${warning.message}`,
    );
}

// `stillprop schema KIND`: the JSON Schema of a file that people write by hand.
import { FILE_SCHEMAS, type FileKind, jsonSchemaOf } from '@stillprop/contracts';
import { BadInput } from '../badInput.js';

export function schema(kind: string): void {
  if (!Object.hasOwn(FILE_SCHEMAS, kind)) {
    throw new BadInput(`KIND must be one of ${Object.keys(FILE_SCHEMAS).join(', ')}, got "${kind}"`);
  }
  process.stdout.write(`${JSON.stringify(jsonSchemaOf(kind as FileKind), null, 2)}\n`);
}

// A problem with one field of a link profile.
import type { Problem } from '@stillprop/contracts';

export function problem(field: string, what: string): Problem {
  return { field, message: `${field} ${what}` };
}

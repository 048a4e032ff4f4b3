// A whole number in a query, within a range that a refusal names.
import { z } from 'zod';

export function wholeNumber(lowest: number, highest: number) {
  const range = `must be a whole number from ${lowest} to ${highest}`;
  return z.coerce.number(range).int(range).min(lowest, range).max(highest, range);
}

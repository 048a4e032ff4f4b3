// The order of the rows on the page Compare: what a click on a column's head makes of it.
import type { StudentFigures, StudentOrder } from '@stillprop/contracts';

export interface Order {
  readonly order: StudentOrder;
  readonly downwards: boolean;
}

/** The same column again turns it round; scores, counts and times begin with the most. */
export function nextOrder(now: Order, order: StudentOrder): Order {
  if (now.order === order) return { order, downwards: !now.downwards };
  return { order, downwards: order === 'overall' || order === 'attempts' || order === 'newest' };
}

export const nameOf = ({ student }: Pick<StudentFigures, 'student'>) => student ?? 'No name';

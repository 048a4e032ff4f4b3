// The order of the rows on the page Compare, and which of them a typed name leaves.
import type { ComparedFigure, StudentFigures } from '@stillprop/contracts';

export type OrderBy = 'student' | 'attempts' | ComparedFigure;
export interface Order {
  readonly by: OrderBy;
  readonly downwards: boolean;
}

/** The same column again turns it round; scores and counts begin with the most. */
export function nextOrder(order: Order, by: OrderBy): Order {
  if (order.by === by) return { by, downwards: !order.downwards };
  return { by, downwards: by === 'overall' || by === 'attempts' };
}

/** By the median of a figure; who has none stands last, whichever way. */
export function ordered(students: readonly StudentFigures[], { by, downwards }: Order): StudentFigures[] {
  const way = downwards ? -1 : 1;
  return [...students].sort((a, b) => {
    if (by === 'student') return way * nameOf(a).localeCompare(nameOf(b), 'en');
    const [left, right] = [figureOf(a, by), figureOf(b, by)];
    if (left === null || right === null) return left === right ? 0 : left === null ? 1 : -1;
    return way * (left - right) || nameOf(a).localeCompare(nameOf(b), 'en');
  });
}

export function named(students: readonly StudentFigures[], typed: string): StudentFigures[] {
  const wanted = typed.trim().toLocaleLowerCase();
  return students.filter((student) => nameOf(student).toLocaleLowerCase().includes(wanted));
}

export const nameOf = ({ student }: Pick<StudentFigures, 'student'>) => student ?? 'No name';

function figureOf({ attempts, figures }: StudentFigures, by: Exclude<OrderBy, 'student'>): number | null {
  return by === 'attempts' ? attempts : (figures[by]?.median ?? null);
}

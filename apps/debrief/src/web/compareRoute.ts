// The address of the page Compare: what is compared, narrowed by what, in which order, and which attempts are ticked.
import './zodWithoutEval.js';
import { FlownOutcome, STUDENT_ORDERS, type StudentOrder } from '@stillprop/contracts';

export const COMPARE_PATH = '/compare';
/** So many attempts can be drawn over each other and still be told apart. */
export const MOST_TOGETHER = 8;

/** What the attempts are narrowed by: empty and null do not narrow. */
export interface CompareFilter {
  readonly outcomes: readonly FlownOutcome[];
  /** Days as `2026-03-01`, in the reader's own time zone, both counted in. */
  readonly fromDay: string | null;
  readonly toDay: string | null;
  readonly heightFromFt: number | null;
  readonly heightToFt: number | null;
  /** Part of a student's name. */
  readonly name: string;
}

/** What the page Compare shows: scenario and rubric null, it chooses for itself. */
export interface CompareRoute {
  readonly scenarioId: string | null;
  readonly rubricId: string | null;
  readonly rubricRevision: number | null;
  /** One student's attempts; null: all students side by side. */
  readonly student: string | null;
  /** Attempts shown together; fewer than two: none are. */
  readonly attemptIds: readonly string[];
  /** Attempts ticked to be shown together, kept while the reader looks for more. */
  readonly ticked: readonly string[];
  readonly filter: CompareFilter;
  readonly order: StudentOrder;
  readonly downwards: boolean;
  /** Of the students, from 1. */
  readonly page: number;
  /** Where a page of one student's attempts begins: `next` of the page before; null: the newest. */
  readonly before: string | null;
}

export const NOT_NARROWED: CompareFilter = {
  outcomes: [],
  fromDay: null,
  toDay: null,
  heightFromFt: null,
  heightToFt: null,
  name: '',
};

export function comparePath(route: CompareRoute): string {
  const { filter } = route;
  const query = new URLSearchParams();
  const set = (name: string, value: string | number | null) => {
    if (value !== null && value !== '') query.set(name, String(value));
  };
  set('scenario', route.scenarioId);
  set('rubric', route.rubricId);
  set('revision', route.rubricRevision);
  set('student', route.student);
  for (const outcome of filter.outcomes) query.append('outcome', outcome);
  set('from', filter.fromDay);
  set('to', filter.toDay);
  set('above', filter.heightFromFt);
  set('below', filter.heightToFt);
  set('name', filter.name);
  set('order', route.order === 'student' ? null : route.order);
  set('down', route.downwards ? 1 : null);
  set('page', route.page === 1 ? null : route.page);
  set('before', route.before);
  for (const id of route.ticked) query.append('tick', id);
  for (const id of route.attemptIds) query.append('attempt', id);
  return query.size === 0 ? COMPARE_PATH : `${COMPARE_PATH}?${query}`;
}

/** What cannot be read in an address narrows nothing. */
export function compareRoute(search: string): CompareRoute {
  const query = new URLSearchParams(search);
  const day = (name: string) => {
    const text = query.get(name) ?? '';
    return isDay(text) ? text : null;
  };
  const order = query.get('order');
  return {
    scenarioId: query.get('scenario'),
    rubricId: query.get('rubric'),
    rubricRevision: whole(query.get('revision'), 1),
    student: query.get('student'),
    attemptIds: query.getAll('attempt').slice(0, MOST_TOGETHER),
    ticked: query.getAll('tick').slice(0, MOST_TOGETHER),
    filter: {
      outcomes: FlownOutcome.options.filter((outcome) => query.getAll('outcome').includes(outcome)),
      fromDay: day('from'),
      toDay: day('to'),
      heightFromFt: whole(query.get('above'), 0, 60_000),
      heightToFt: whole(query.get('below'), 0, 60_000),
      name: (query.get('name') ?? '').slice(0, 100),
    },
    order: STUDENT_ORDERS.find((each) => each === order) ?? 'student',
    downwards: query.get('down') === '1',
    page: whole(query.get('page'), 1, 1_000_000) ?? 1,
    before: query.get('before'),
  };
}

function whole(text: string | null, least: number, most = Number.MAX_SAFE_INTEGER): number | null {
  const value = Number(text === null || text.trim() === '' ? Number.NaN : text);
  return Number.isInteger(value) && value >= least && value <= most ? value : null;
}

function isDay(text: string): boolean {
  const at = /^\d{4}-\d\d-\d\d$/.test(text) ? new Date(`${text}T00:00:00Z`) : null;
  return at !== null && !Number.isNaN(at.getTime()) && at.toISOString().startsWith(text);
}

// What a comparison is narrowed by: as a query for the server, and in words for the reader and for paper.
import { figure } from '@stillprop/charts';
import type { CompareFilter } from '../compareRoute.js';
import { dayWords, OUTCOME_WORDS } from '../words.js';

/** Days become moments in the reader's own time zone, as the attempts' times are shown. */
export function filterQuery(filter: CompareFilter): Readonly<Record<string, string>> {
  const { outcomes, fromDay, toDay, heightFromFt, heightToFt, name } = filter;
  return {
    ...(outcomes.length === 0 ? {} : { outcome: outcomes.join(',') }),
    ...(fromDay === null ? {} : { startedFrom: dayStart(fromDay, 0) }),
    ...(toDay === null ? {} : { startedBefore: dayStart(toDay, 1) }),
    ...(heightFromFt === null ? {} : { heightFromFt: String(heightFromFt) }),
    ...(heightToFt === null ? {} : { heightToFt: String(heightToFt) }),
    ...(name.trim() === '' ? {} : { name: name.trim() }),
  };
}

/** `landed ahead or stalled; flown from 1 Mar 2026; power lost from 600 ft to 900 ft`; empty: not narrowed. */
export function filterWords(filter: CompareFilter): string {
  const { outcomes, fromDay, toDay, heightFromFt, heightToFt, name } = filter;
  const range = (what: string, at: string, from: string | null, to: string | null) => {
    if (from === null) return to === null ? [] : [`${what} up to ${to}`];
    if (to === null) return [`${what} from ${from} on`];
    return [from === to ? `${what} ${at} ${from}` : `${what} from ${from} to ${to}`];
  };
  const feet = (heightFt: number | null) => (heightFt === null ? null : figure(heightFt, 'ft'));
  return [
    ...(name.trim() === '' ? [] : [`name with “${name.trim()}”`]),
    ...(outcomes.length === 0
      ? []
      : [
          outcomes
            .map((outcome) => OUTCOME_WORDS[outcome].replace(/^[A-Z]/, (letter) => letter.toLowerCase()))
            .join(' or '),
        ]),
    ...range('flown', 'on', fromDay && dayWords(fromDay), toDay && dayWords(toDay)),
    ...range('power lost', 'at', feet(heightFromFt), feet(heightToFt)),
  ].join('; ');
}

function dayStart(day: string, daysLater: number): string {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  return new Date(year, month - 1, date + daysLater).toISOString();
}

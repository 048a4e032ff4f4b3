// An index full of scored attempts of invented students, made quickly: rows alone, no recordings behind them.
import BetterSqlite3 from 'better-sqlite3';

const FIRST = `Ada Bo Cy Di Ed Fay Gil Hal Ida Jem Kit Lou Mae Ned Ola Pip Quin Ros Sol Tess Uma Vic Wyn Xan Yul`.split(
  ' ',
);
const LAST =
  `Avocet Bunting Crake Dunlin Eider Finch Garganey Heron Ibis Jackdaw Kestrel Lark Martin Nightjar Ouzel Plover Quail Redstart Swift Teal`.split(
    ' ',
  );
export const MOST_STUDENTS = FIRST.length * LAST.length;
/** The student who flew more than all others: every fortieth attempt and more. */
export const BUSIEST = 'Ada Avocet';
const BUSY_EVERY = 40;
const FIRST_START_MS = Date.UTC(2026, 0, 1, 8);
const APART_MS = 7 * 60_000;

/** The `index`-th of 500 names, each another. */
export function studentName(index: number): string {
  return `${FIRST[index % FIRST.length]} ${LAST[Math.floor(index / FIRST.length) % LAST.length]}`;
}

export interface IndexedAttempts {
  readonly attempts: number;
  /** At most `MOST_STUDENTS`. */
  readonly students: number;
  /** As the server's, or it would score them anew and find no recording. */
  readonly engineRevision: string;
  readonly seed?: number;
}

/** Id of the `number`-th attempt from 0. */
export const indexedId = (number: number) => `00000000-0000-4000-8000-${number.toString(16).padStart(12, '0')}`;

/** Adds them to the index of a store that has been opened before, in `path`. */
export function fillIndex(path: string, { attempts, students, engineRevision, seed = 1 }: IndexedAttempts): void {
  let state = seed;
  const random = () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  const raw = new BetterSqlite3(path);
  try {
    const insert = raw.prepare(`insert into attempt (attempt_id, started_at, station, student, scenario_id,
      scenario_revision, scenario_name, aircraft_name, runway_name, rubric_id, rubric_revision, complete, samples, sha256,
      size_bytes, engine_revision, failure_height_ft, outcome, overall, delay_s, bank_deg, airspeed_kt, touchdown_ft, cost_ft)
      values (?, ?, 'desk', ?, 'first-turn-back', 1, 'Turn back from 1,000 ft', 'Turnstone', '24', 'standard', 2, 1, 2000, '',
      1, ?, ?, ?, ?, ?, ?, ?, ?, ?)`);
    raw.transaction(() => {
      for (let i = 0; i < attempts; i += 1) {
        const who = i % BUSY_EVERY === 0 ? 0 : Math.floor(random() * students);
        // Each has a skill of their own, and all grow better with time.
        const skill = ((who * 37) % 100) / 100 + 0.4 * (i / attempts);
        const delayS = 1.5 + 5 * random() * (1.4 - skill);
        const costFt = 20 + 40 * delayS * random();
        const overall = Math.round(Math.max(0, Math.min(100, 55 + 35 * skill - 0.2 * costFt + 20 * random())));
        const outcome =
          overall > 55 ? 'stopped-on-runway' : overall > 40 ? 'landed-ahead' : overall > 30 ? 'on-airfield' : 'stall';
        insert.run(
          indexedId(i),
          new Date(FIRST_START_MS + i * APART_MS).toISOString(),
          studentName(who),
          engineRevision,
          600 + 600 * random(),
          outcome,
          overall,
          delayS,
          45 + 12 * (random() - 0.6),
          85 + 14 * (random() - 0.4),
          // Who landed ahead aimed at no touchdown point.
          outcome === 'landed-ahead' ? null : 1800 * (random() - 0.3),
          costFt,
        );
      }
    })();
  } finally {
    raw.close();
  }
}

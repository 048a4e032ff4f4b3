// What comparing students over 100,000 attempts costs against the same statements given to SQLite by hand.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import type { Ratio } from '../../../.tools/sideBySide.js';
import type { CompareQuery } from './compare.js';
import { fillIndex } from './indexedAttempts.fixture.js';
import { openStore } from './openStore.js';

const ATTEMPTS = 100_000;
const STUDENTS = 200;
const ROUNDS = 5;
const QUERY = {
  scenarioId: 'first-turn-back',
  rubricId: 'standard',
  rubricRevision: 2,
  engineRevision: '4',
  order: 'student',
  downwards: false,
  limit: STUDENTS,
  offset: 0,
} as const satisfies CompareQuery;
const NARROW = {
  name: 'heron',
  heightFromFt: 700,
  outcome: ['stopped-on-runway', 'landed-ahead'],
} satisfies Partial<CompareQuery>;
const NARROW_SQL =
  "and outcome in ('stopped-on-runway', 'landed-ahead') and failure_height_ft >= 699.5 and lower(student) like '%heron%'";
const COLUMNS = {
  overall: 'overall',
  delayS: 'delay_s',
  bankDeg: 'bank_deg',
  airspeedKt: 'airspeed_kt',
  touchdownFt: 'touchdown_ft',
  costFt: 'cost_ft',
} as const;

export default async function compare(): Promise<Ratio[]> {
  const dataDir = mkdtempSync(join(tmpdir(), 'stillprop-compare-'));
  const store = await openStore({ dataDir });
  const path = join(dataDir, 'stillprop.sqlite');
  fillIndex(path, { attempts: ATTEMPTS, students: STUDENTS, engineRevision: '4' });
  const raw = new BetterSqlite3(path);
  try {
    const measured = async (filter: Partial<CompareQuery>, narrowing: string): Promise<number> => {
      const statements = byHand(raw, narrowing);
      const ratios: number[] = [];
      for (let round = 0; round < ROUNDS; round += 1) {
        const bare = await timed(async () => statements.reduce((rows, each) => rows + each.all().length, 0));
        const ours = await timed(async () => (await store.compare({ ...QUERY, ...filter })).students.length);
        if (ours.rows === 0 || bare.rows < ours.rows) throw new Error(`${ours.rows} rows, which cannot be`);
        ratios.push(ours.ms / bare.ms);
      }
      return ratios.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number;
    };
    return [
      {
        name: `students of ${ATTEMPTS} attempts compared / the bare SQL`,
        ratio: await measured({}, ''),
        goal: 1.5,
        better: 'lower',
      },
      {
        name: `students of ${ATTEMPTS} attempts narrowed and compared / the bare SQL`,
        ratio: await measured(NARROW, NARROW_SQL),
        goal: 1.5,
        better: 'lower',
      },
    ];
  } finally {
    raw.close();
    await store.close();
    rmSync(dataDir, { recursive: true });
  }
}

/** What the page shows, as somebody would ask SQLite for it: counts, outcomes, ranges, and each figure by student. */
function byHand(raw: BetterSqlite3.Database, narrowing: string): BetterSqlite3.Statement[] {
  const alike =
    "from attempt where scenario_id = 'first-turn-back' and rubric_id = 'standard' and rubric_revision = 2 and engine_revision = '4'";
  const chosen = `${alike} ${narrowing}`;
  const at = (k: number) => `max(case when r = (${k} * n + 3) / 4 then v end)`;
  const columns = Object.values(COLUMNS);
  return [
    raw.prepare("select count(*) from attempt where scenario_id = 'first-turn-back'"),
    raw.prepare(`select count(*) ${alike}`),
    raw.prepare(`select student, count(*) as n, max(started_at) as newest ${chosen} group by student`),
    raw.prepare(`select outcome, count(*) as n ${chosen} group by outcome`),
    raw.prepare(`select ${columns.map((column) => `count(${column}), min(${column}), max(${column})`)} ${chosen}`),
    ...columns.map((column) => {
      const each = `select student, ${column} as v, row_number() over (partition by student order by ${column}) as r, count(*) over (partition by student) as n ${chosen} and ${column} is not null`;
      return raw.prepare(
        `select student, max(n), min(v), ${at(1)}, ${at(2)}, ${at(3)}, max(v) from (${each}) group by student`,
      );
    }),
  ];
}

async function timed(work: () => Promise<number>): Promise<{ ms: number; rows: number }> {
  const start = performance.now();
  const rows = await work();
  return { ms: performance.now() - start, rows };
}

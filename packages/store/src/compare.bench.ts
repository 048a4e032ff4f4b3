// What comparing students over 100,000 attempts costs against the same statements given to SQLite by hand.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { COMPARED_FIGURES } from '@stillprop/contracts';
import BetterSqlite3 from 'better-sqlite3';
import type { Ratio } from '../../../.tools/sideBySide.js';
import { openStore } from './openStore.js';

const ATTEMPTS = 100_000;
const STUDENTS = 200;
const ROUNDS = 7;
const CHOICE = { scenarioId: 'first-turn-back', rubricId: 'standard', rubricRevision: 2, engineRevision: '4' } as const;
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
  const raw = new BetterSqlite3(join(dataDir, 'stillprop.sqlite'));
  try {
    fill(raw);
    const chosen =
      "from attempt where scenario_id = 'first-turn-back' and rubric_id = 'standard' and rubric_revision = 2 and engine_revision = '4'";
    const statements = [
      raw.prepare(`select student, count(*) as n, max(started_at) as newest ${chosen} group by student`),
      ...COMPARED_FIGURES.map((figure) => {
        const column = COLUMNS[figure];
        const ranked = `select student, ${column} as v, row_number() over (partition by student order by ${column}) as r, count(*) over (partition by student) as n ${chosen} and ${column} is not null`;
        const at = (k: number) => `max(case when r = (${k} * n + 3) / 4 then v end)`;
        return raw.prepare(
          `select student, max(n), min(v), ${at(1)}, ${at(2)}, ${at(3)}, max(v) from (${ranked}) group by student`,
        );
      }),
    ];
    const ratios: number[] = [];
    for (let round = 0; round < ROUNDS; round += 1) {
      const bareMs = await timed(async () => statements.reduce((rows, statement) => rows + statement.all().length, 0));
      const storeMs = await timed(async () => (await store.compare(CHOICE)).length * (COMPARED_FIGURES.length + 1));
      ratios.push(storeMs / bareMs);
    }
    const ratio = ratios.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number;
    return [{ name: `students of ${ATTEMPTS} attempts compared / the bare SQL`, ratio, goal: 1.5, better: 'lower' }];
  } finally {
    raw.close();
    await store.close();
    rmSync(dataDir, { recursive: true });
  }
}

async function timed(work: () => Promise<number>): Promise<number> {
  const start = performance.now();
  const rows = await work();
  if (rows !== STUDENTS * (COMPARED_FIGURES.length + 1)) throw new Error(`${rows} rows, which cannot be`);
  return performance.now() - start;
}

function fill(raw: BetterSqlite3.Database): void {
  let state = 1;
  const random = () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  const insert =
    raw.prepare(`insert into attempt (attempt_id, started_at, station, student, scenario_id, scenario_revision,
    scenario_name, aircraft_name, runway_name, rubric_id, rubric_revision, complete, samples, sha256, size_bytes, engine_revision,
    overall, delay_s, bank_deg, airspeed_kt, touchdown_ft, cost_ft)
    values (?, ?, 'desk', ?, 'first-turn-back', 1, 'Turn back', 'Turnstone', '24', 'standard', 2, 1, 2000, '', 1, '4', ?, ?, ?, ?, ?, ?)`);
  raw.transaction(() => {
    for (let i = 0; i < ATTEMPTS; i += 1) {
      const figures = [
        100 * random(),
        8 * random(),
        60 * random(),
        60 + 60 * random(),
        4000 * random(),
        300 * random(),
      ];
      insert.run(`id-${i}`, new Date(1.7e12 + i * 1e5).toISOString(), `Student ${i % STUDENTS}`, ...figures);
    }
  })();
}

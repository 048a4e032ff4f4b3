// Opens the index: one place that knows the dialect, and the migrations that bring it to today's tables.
import BetterSqlite3 from 'better-sqlite3';
import { CamelCasePlugin, type Dialect, Kysely, Migrator, SqliteDialect } from 'kysely';
import { MIGRATIONS, type Tables } from './schema.js';

/** SQLite in a file. Write-ahead log: readers never wait, and a crash leaves the last whole transaction. */
export function sqliteDialect(path: string): Dialect {
  return new SqliteDialect({
    database: async () => {
      const database = new BetterSqlite3(path);
      database.pragma('journal_mode = WAL');
      // The recordings are the truth and are flushed on their own: a row lost with the power comes back on opening.
      database.pragma('synchronous = NORMAL');
      database.pragma('busy_timeout = 5000');
      return database;
    },
  });
}

/**
 * The index on any dialect, migrated to today's tables.
 *
 * @throws {Error} With one sentence if it cannot be opened, or was written by a newer Stillprop.
 */
export async function openDatabase(dialect: Dialect, name: string): Promise<Kysely<Tables>> {
  const db = new Kysely<Tables>({ dialect, plugins: [new CamelCasePlugin()] });
  const migrator = new Migrator({ db, provider: { getMigrations: async () => MIGRATIONS } });
  try {
    const unknown = (await appliedSteps(db)).find((step) => MIGRATIONS[step] === undefined);
    if (unknown !== undefined) {
      throw new Error(`it was written by a newer Stillprop (step ${unknown}): start that version instead`);
    }
    const { error } = await migrator.migrateToLatest();
    if (error !== undefined) throw error;
    return db;
  } catch (error) {
    await db.destroy();
    throw new Error(`The index of attempts ${name} cannot be opened: ${(error as Error).message}`, { cause: error });
  }
}

/** Names of the steps this index has been through; none for a new one. */
async function appliedSteps(db: Kysely<Tables>): Promise<string[]> {
  const tables = await db.introspection.getTables({ withInternalKyselyTables: true });
  if (!tables.some((table) => table.name === 'kysely_migration')) return [];
  const rows = await db
    .withoutPlugins()
    .withTables<{ kysely_migration: { name: string } }>()
    .selectFrom('kysely_migration')
    .select('name')
    .execute();
  return rows.map((row) => row.name);
}

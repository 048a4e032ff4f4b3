// `npm run fuzz`: every package's tests with property cases never tried before; the seed is printed, to try them again.
import { randomInt } from 'node:crypto';
import { ensureInstalled, say, turbo } from './workspace.mjs';

ensureInstalled();
const seed = process.env.PROPERTY_SEED ?? String(randomInt(2 ** 31));
process.env.PROPERTY_SEED = seed;
// Damaged datagrams for each decoder; an ordinary run tries a tenth.
process.env.MUTATED_DATAGRAMS ??= '1000000';
say(`Property tests with seed ${seed}. To try the same cases again: PROPERTY_SEED=${seed} npm run fuzz`);
process.exitCode = turbo('test', '--filter=./packages/*', '--filter=./apps/*', '--continue', '--concurrency=2');

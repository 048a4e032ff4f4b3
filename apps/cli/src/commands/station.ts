// `stillprop station token | revoke | list`: who, from another computer, may hand recordings to the debrief server here.
import { join } from 'node:path';
import { stationTokens } from '@stillprop/debrief';
import { BadInput } from '../badInput.js';
import { makeFolder } from '../makeFolder.js';

export interface StationDataOptions {
  readonly data: string;
}

const LONGEST_NAME = 200;

/** Prints the token alone on stdout, so that it can be written into a file. */
export async function stationToken(name: string, options: StationDataOptions): Promise<void> {
  if (name === '' || name.length > LONGEST_NAME) {
    throw new BadInput(`NAME must have 1 to ${LONGEST_NAME} characters, got ${name.length}`);
  }
  makeFolder(folderOf(options), '--data');
  const token = await tokensOf(options).issue(name);
  process.stdout.write(`${token}\n`);
  console.error(
    `That is the token of station "${name}"; it is not shown again. Put it into a file on the other computer, and start there:\n` +
      `  stillprop start --server http://THIS-COMPUTER:47180 --station ${JSON.stringify(name)} --token-file FILE --link FILE\n` +
      'Here, start with --network. The token travels unencrypted over http: use it in a network you trust.',
  );
}

export async function stationRevoke(name: string, options: StationDataOptions): Promise<void> {
  if (!(await tokensOf(options).revoke(name))) throw new BadInput(`station "${name}" has no token`);
  process.stdout.write(`The token of station "${name}" is revoked.\n`);
}

export async function stationList(options: StationDataOptions & { readonly json?: boolean }): Promise<void> {
  const stations = await tokensOf(options).list();
  if (options.json) process.stdout.write(`${JSON.stringify(stations, null, 2)}\n`);
  else if (stations.length === 0) process.stdout.write('No station has a token.\n');
  else for (const { station, issuedAt } of stations) process.stdout.write(`${station}\tsince ${issuedAt}\n`);
}

const folderOf = ({ data }: StationDataOptions) => join(data, 'debrief');
const tokensOf = (options: StationDataOptions) => stationTokens(folderOf(options));

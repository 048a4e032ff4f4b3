// Tokens by which the server knows the bridges of other computers: issued once, kept hashed in the data folder, revocable.
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { mkdir, open, readFile, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { parseJson } from '@stillprop/contracts';
import { z } from 'zod';

const FILE_NAME = 'station-tokens.json';
const TOKEN_BYTES = 32;
/** A token given in a request is not looked at beyond this. */
const LONGEST_TOKEN = 200;

const TokenFile = z.strictObject({
  schemaVersion: z.literal(1),
  tokens: z.array(
    z.strictObject({
      station: z.string().min(1).max(200),
      /** Of the token, in hex. It is random throughout, so that a plain hash cannot be guessed back. */
      sha256: z.string().regex(/^[0-9a-f]{64}$/),
      issuedAt: z.iso.datetime(),
    }),
  ),
});
type TokenFile = z.infer<typeof TokenFile>;

export interface StationTokens {
  /** A new token for a station, in place of the one it has. It is told this once: only its hash is kept. */
  issue(station: string): Promise<string>;
  /** @returns Whether the station had one. */
  revoke(station: string): Promise<boolean>;
  /** Stations that have a token, and since when (ISO 8601), by name. */
  list(): Promise<readonly { readonly station: string; readonly issuedAt: string }[]>;
  /** The station whose token this is; null: nobody's, or revoked. Each call reads what is kept now. */
  stationOf(token: string): Promise<string | null>;
}

/** @throws {Error} From each call, with one sentence, if the file of tokens cannot be read or written. */
export function stationTokens(dataDir: string): StationTokens {
  const path = join(dataDir, FILE_NAME);

  const read = async (): Promise<TokenFile> => {
    let text: string;
    try {
      text = await readFile(path, 'utf8');
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return { schemaVersion: 1, tokens: [] };
      throw error;
    }
    const parsed = parseJson(TokenFile, text, FILE_NAME);
    if (!parsed.ok) throw new Error(`${path}: ${parsed.problem.message}`);
    return parsed.value;
  };
  /** All of it or nothing: a file half-written would lock every bridge out. */
  const write = async (file: TokenFile): Promise<void> => {
    await mkdir(dataDir, { recursive: true });
    const handle = await open(`${path}.new`, 'w', 0o600);
    try {
      await handle.writeFile(`${JSON.stringify(file, null, 2)}\n`);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(`${path}.new`, path);
  };
  return {
    async issue(station) {
      const token = randomBytes(TOKEN_BYTES).toString('base64url');
      const { tokens } = await read();
      const others = tokens.filter((one) => one.station !== station);
      const issued = { station, sha256: hashOf(token).toString('hex'), issuedAt: new Date().toISOString() };
      await write({ schemaVersion: 1, tokens: [...others, issued] });
      return token;
    },
    async revoke(station) {
      const { tokens } = await read();
      const others = tokens.filter((one) => one.station !== station);
      if (others.length === tokens.length) return false;
      await write({ schemaVersion: 1, tokens: others });
      return true;
    },
    async list() {
      const { tokens } = await read();
      return tokens
        .map(({ station, issuedAt }) => ({ station, issuedAt }))
        .sort((a, b) => a.station.localeCompare(b.station, 'en'));
    },
    async stationOf(token) {
      if (token.length > LONGEST_TOKEN) return null;
      const hash = hashOf(token);
      let found: string | null = null;
      // Every one is compared, each in the same time: how long it takes tells nothing.
      for (const { station, sha256 } of (await read()).tokens) {
        if (timingSafeEqual(hash, Buffer.from(sha256, 'hex'))) found = station;
      }
      return found;
    },
  };
}

function hashOf(token: string): Buffer {
  return createHash('sha256').update(token).digest();
}

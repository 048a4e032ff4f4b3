// `stillprop link check PROFILE`: what a link covers, what is missing and what is lost by it, and what it makes of a capture.

import { readdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { LinkProfile } from '@stillprop/contracts';
import { createSampleTally, type LinkCoverage, linkCoverage, linkSet, type TallyReport } from '@stillprop/links';
import { BadInput } from '../badInput.js';
import { readCaptureInput } from '../captureInput.js';
import { readLinkPart } from '../linkFiles.js';
import { table, wrap } from '../sheet.js';
import { rangeLines, refusedLines } from './linkWords.js';

export interface CheckOptions {
  readonly capture?: string;
  readonly json?: boolean;
}

export function linkCheck(path: string, options: CheckOptions): void {
  const profile = readLinkPart(path);
  const coverage = linkCoverage([profile, ...furtherLinks(profile, path)]);
  const made = options.capture === undefined ? null : tallyOf(profile, options.capture);
  process.stdout.write(
    options.json
      ? `${JSON.stringify({ link: profile.id, ...coverage, capture: made }, null, 2)}\n`
      : checkText(profile, coverage, made),
  );
}

/** The links that this one names in merge, from the files beside it. @throws {BadInput} If one is not there. */
function furtherLinks(profile: LinkProfile, path: string): readonly LinkProfile[] {
  if (profile.merge === undefined) return [];
  if (path === '-') throw new BadInput('merge needs the files of the links it names: name the file instead of -');
  const folder = dirname(path);
  const beside = readdirSync(folder)
    .filter((name) => name.endsWith('.json') && name !== basename(path))
    .flatMap((name) => {
      try {
        return [readLinkPart(join(folder, name))];
      } catch (error) {
        if (error instanceof BadInput) return []; // another kind of file, or a link that is not asked for
        throw error;
      }
    });
  const set = linkSet(profile, beside);
  if (!set.ok) throw new BadInput(`${path}: ${set.problem.message}, from a file beside it`);
  return set.profiles.slice(1);
}

function tallyOf(profile: LinkProfile, path: string): TallyReport {
  const tally = createSampleTally(profile);
  for (const { bytes, atS } of readCaptureInput(path).messages) tally.give(bytes, atS);
  return tally.report();
}

export function checkText(profile: LinkProfile, coverage: LinkCoverage, made: TallyReport | null): string {
  const { covered, missing, problem } = coverage;
  return [
    ...wrap(`Link "${profile.id}": ${profile.name}.`),
    ...wrap(problem === null ? 'It can be flown.' : `It cannot be flown yet: ${problem}`),
    '',
    'Covered:',
    ...table(covered.map(({ channel, how, note }) => [channel.padEnd(22), note ?? (how === 'sent' ? 'sent' : how)])),
    ...(missing.length === 0 ? [] : ['', 'Missing, and what is lost by it:']),
    ...table(
      missing.map(({ channel, required, lost }) => [channel.padEnd(22), `${required ? 'NEEDED. ' : ''}${lost}`]),
    ),
    ...(made === null ? [] : ['', ...captureLines(made)]),
    '',
  ].join('\n');
}

function captureLines(made: TallyReport): string[] {
  const rate = made.rateHz === null ? 'too few to tell a rate' : `${made.rateHz.toFixed(1)} a second`;
  const kept = made.kept === 0 ? '' : `, ${made.kept} hold values for a later one`;
  return [
    ...wrap(`Of ${made.messages} messages ${made.good} give samples${kept}: ${made.samples} samples, ${rate}.`),
    ...refusedLines(made),
    ...rangeLines(made),
    ...(made.doubts.length === 0
      ? wrap('Nothing is doubtful. That is no proof that all is right: compare with the cockpit.')
      : made.doubts.flatMap((doubt) => wrap(`Doubtful: ${doubt}`, 2))),
  ];
}

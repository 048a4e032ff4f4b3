// A debrief in plain text, to be understood without the page.
import type { Criterion, CriterionName, RecordingHeader, Score } from '@stillprop/contracts';
import { importedNotes, unmeasuredOfHeader } from './unmeasured.js';
import { capitalised, feet, knots, oneDecimal, whole } from './words.js';

const CAUTION =
  'Simulator practice only: no licence to try it low in an aeroplane. The aircraft handbook, local rules and a qualified instructor come first.';
const NAMES: { readonly [name in CriterionName]: string } = {
  delay: 'Delay',
  bank: 'Bank',
  airspeed: 'Airspeed',
  touchdown: 'Touchdown',
};
const WIDTH = 96;

/**
 * The debrief of a score as text of at most 96 columns: headline, total, verdict, the four criteria with their reasons,
 * findings with their moments, where the height went, and the caution. Times count from the loss of power.
 *
 * @param header Of the recording; names aeroplane, runway and scenario when given.
 */
export function debriefText(score: Score, header?: RecordingHeader): string {
  const lossS = score.failure?.atS ?? null;
  const blocks = [
    wrapped(score.headline),
    header === undefined ? '' : wrapped(setting(score, header)),
    header === undefined ? '' : wrapped(importedNotes(header)),
    wrapped(total(score)),
    wrapped(score.verdict.text),
    criteria(score),
    findings(score, lossS),
    ledger(score),
    costs(score),
    wrapped(`Rubric ${score.rubric.name}, revision ${score.rubric.revision}; scoring engine ${score.engineRevision}.`),
    wrapped(CAUTION),
  ];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

function setting(score: Score, header: RecordingHeader): string {
  const { runway, aircraft, scenario, weather } = header;
  const failure =
    score.failure === null
      ? 'no loss of power'
      : `power lost at ${feet(score.failure.heightFt)}${unmeasuredOfHeader(header, ['indicatedAirspeedKt']).length > 0 ? '' : ` and ${knots(score.failure.indicatedAirspeedKt)}`}`;
  const wind = weather.winds[0];
  const air =
    wind === undefined ? 'calm' : `wind ${whole(wind.fromTrueDeg)}° ${knots(wind.speedKt)} at ${feet(wind.heightFt)}`;
  return `${scenario.name}: ${aircraft.name}, runway ${runway.name}${runway.airfieldName === undefined ? '' : ` at ${runway.airfieldName}`} (${feet(runway.lengthFt)}), ${air}; ${failure}.`;
}

function total({ overall, uncapped, findings }: Score): string {
  if (findings.some(({ code }) => code === 'not-flown-out'))
    return 'Score: none, because the attempt was not flown down to the end.';
  if (overall === null) return 'Score: none, because nothing that counts could be measured.';
  if (uncapped !== null && uncapped > overall)
    return `Score: ${overall} of 100. The marks alone come to ${uncapped}; a finding below holds the total down.`;
  return `Score: ${overall} of 100.`;
}

function criteria(score: Score): string {
  const lines = (Object.keys(NAMES) as CriterionName[]).map((name) => {
    const criterion = score.criteria[name];
    const head = `  ${NAMES[name].padEnd(10)} ${scoreWords(criterion).padStart(12)}  `;
    return hanging(head, criterion.text);
  });
  return ['Criteria', ...lines].join('\n');
}

function scoreWords({ score }: Criterion): string {
  return score === null ? 'not measured' : `${Math.round(score)} of 100`;
}

function findings(score: Score, lossS: number | null): string {
  if (score.findings.length === 0) return '';
  const lines = score.findings.map(({ severity, atS, text, cap }) => {
    const when = atS === null || lossS === null ? '' : moment(atS - lossS);
    return hanging(
      `  ${capitalised(severity).padEnd(8)} ${when.padStart(8)}  `,
      cap === undefined || score.overall === null ? text : `${text} The total is at most ${cap}.`,
    );
  });
  return ['Findings (time from the loss of power)', ...lines].join('\n');
}

function moment(fromLossS: number): string {
  return `${fromLossS < 0 ? '' : '+'}${oneDecimal(fromLossS)} s`;
}

function ledger({ ledger: found }: Score): string {
  if (found === null) return '';
  const row = (text: string, figure: string) => `  ${text.padEnd(32)} ${figure.padStart(9)}`;
  return [
    'Where the height went',
    row('Height when the power was lost', feet(found.heightAtFailureFt)),
    ...found.rows.map(({ text, heightFt }) => row(text, `${heightFt > 0 ? '+' : ''}${feet(heightFt)}`)),
    row('Height at the end', feet(found.heightAtContactFt)),
  ].join('\n');
}

function costs({ costs: found }: Score): string {
  if (found === null) return '';
  const rows = found.rows.map(({ text, costFt }) => {
    const figure = `${costFt > 0 ? '+' : ''}${feet(costFt)}`;
    return `  ${figure.padStart(9)}  ${text}`;
  });
  return ['What each deviation cost', hanging('  ', found.text), ...rows].join('\n');
}

/** Text broken between words, its further lines under where it begins. */
function hanging(head: string, text: string): string {
  const room = WIDTH - head.length;
  const lines = [''];
  for (const word of text.split(' ')) {
    const line = lines.at(-1) as string;
    if (line === '') lines[lines.length - 1] = word;
    else if (line.length + 1 + word.length <= room) lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines.map((line, i) => (i === 0 ? head : ' '.repeat(head.length)) + line).join('\n');
}

function wrapped(text: string): string {
  return hanging('', text);
}

// The table of states as a page for people (STATES.md holds exactly this), and as the measure of a step.

import type { ExerciseInput, ExerciseState, PersonCommand, Step } from './states.js';
import { type InputKind, REFUSALS, STATE_MEANS, STATE_NAMES, STATE_TABLE, type Transition } from './stateTable.js';

const INPUTS: readonly InputKind[] = ['sample', 'tick', 'arm', 'fail-now', 'restore', 'stop', 'simulator-reset'];
const all = Object.values(STATE_TABLE) as readonly Transition[];

export function statesPage(): string {
  const refusals = (Object.keys(REFUSALS) as PersonCommand[]).flatMap((command) =>
    Object.entries(REFUSALS[command]).map(([name, text]) => [code(command), code(name), text]),
  );
  return [
    '# States of an attempt',
    '',
    'Written from `src/stateTable.ts`; `src/stateTable.test.ts` holds the two together, and holds every step of many flights against it.',
    '',
    ...table([['state', 'is so while'], ...STATE_NAMES.map((name) => [code(name), STATE_MEANS[name]])]),
    '',
    '## What leads where',
    '',
    ...table([['from', 'on', 'when', 'to', 'says', 'records'], ...all.map(row)]),
    '',
    'Every other input leaves the state as it is. A repeated command, a restored power before a failure, a fault of the data, a',
    'silence and its end are recorded without a change of state.',
    '',
    '## State by input: where it can lead',
    '',
    ...table([
      ['state', ...INPUTS],
      ...STATE_NAMES.map((name) => [code(name), ...INPUTS.map((input) => cell(name, input))]),
    ]),
    '',
    '## What a state refuses',
    '',
    ...table([['command', 'state', 'answer'], ...refusals]),
    '',
  ].join('\n');
}

function row({ from, by, when, to, says, records }: Transition): string[] {
  const codes = (names: readonly string[]) => (names.length === 0 ? 'nothing' : names.map(code).join(', '));
  return [codes(from), by.join(', '), when, code(to), says, codes(records)];
}

/** Rows, the first of them the heads, with columns as wide as their widest cell: as the formatter leaves them. */
function table(rows: readonly (readonly string[])[]): string[] {
  const widths = (rows[0] ?? []).map((_, at) => Math.max(3, ...rows.map((cells) => cells[at]?.length ?? 0)));
  const lines = rows.map((cells) => `| ${cells.map((text, at) => text.padEnd(widths[at] ?? 0)).join(' | ')} |`);
  const rule = `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`;
  return [lines[0] ?? '', rule, ...lines.slice(1)];
}

function code(text: string): string {
  return `\`${text}\``;
}

function cell(name: (typeof STATE_NAMES)[number], input: InputKind): string {
  const refused = input in REFUSALS ? REFUSALS[input as PersonCommand][name] : undefined;
  if (refused !== undefined) return 'refused';
  const leads = all.filter(({ from, by, to }) => from.includes(name) && by.includes(input) && to !== name);
  const to = [...new Set(leads.map((each) => each.to))];
  return to.length === 0 ? 'stays' : to.map((each) => `\`${each}\``).join(', ');
}

/** What a step did that the table does not have; null: it kept to it. */
export function offTable(before: ExerciseState, input: ExerciseInput, step: Step): string | null {
  const by: InputKind = input.kind === 'person' ? input.command : input.kind;
  const codes = step.actions.flatMap((action) => (action.kind === 'record-event' ? [action.event.code] : []));
  let at = before.name;
  for (const { from, cause } of step.moves) {
    const row: Transition = STATE_TABLE[cause];
    if (from !== at || !row.from.includes(from)) return `${cause} from ${from}, in state ${at}`;
    if (!row.by.includes(by)) return `${cause} by ${by}`;
    let next = 0;
    for (const code of codes) if (code === row.records[next]) next += 1;
    if (next < row.records.length) return `${cause} recorded ${codes.join(', ')}`;
    at = row.to;
  }
  if (at !== step.state.name) return `${before.name} became ${step.state.name} by ${by}, where the moves lead to ${at}`;
  const refusal = input.kind === 'person' ? REFUSALS[input.command][before.name] : undefined;
  const refused = step.actions.some((each) => each.kind === 'answer' && !each.ok && each.text === refusal);
  return refusal !== undefined && !refused ? `${by} was not refused in ${before.name}` : null;
}

// What in the commands of a profile cannot work, although each field by itself is well formed.
import {
  BINARY_WIDTHS,
  type BinaryTemplate,
  LINK_COMMAND_NAMES,
  type LinkCommandName,
  type LinkProfile,
  type Problem,
} from '@stillprop/contracts';
import { bytesOfHex, fits } from './binaryNumbers.js';
import { problem } from './problemAt.js';

/** Names that a text template may ask for. */
export const TEMPLATE_VALUES = [
  'powerFraction',
  'propeller',
  'throttleFraction',
  'scenarioId',
  'pilot',
  'seed',
  'speed',
] as const;
export type TemplateValue = (typeof TEMPLATE_VALUES)[number];
export const PLACEHOLDER = /\{([^{}]*)\}/g;

/** Commands that this profile can send. */
export function linkCommands(profile: LinkProfile): LinkCommandName[] {
  return LINK_COMMAND_NAMES.filter((name) => profile.commands?.[name] !== undefined);
}

/** The first thing in a profile's commands that cannot work; null: nothing. */
export function commandsProblem({ commands, transport }: LinkProfile): Problem | null {
  if (commands === undefined) return null;
  if (commands.port === undefined && transport.kind === 'udp' && hasTemplate(commands)) {
    return problem('commands.port', 'is missing: over UDP it must be the port on which the simulator listens');
  }
  if (commands.noFailureCommand === 'cut-throttle' && commands.throttle === undefined) {
    return problem('commands.throttle', 'is missing: noFailureCommand "cut-throttle" needs it');
  }
  for (const name of LINK_COMMAND_NAMES) {
    const template = commands[name];
    if (template === undefined) continue;
    const found = typeof template === 'string' ? textProblem(name, template) : bytesProblem(name, template);
    if (found !== null) return found;
  }
  return null;
}

function hasTemplate(commands: NonNullable<LinkProfile['commands']>): boolean {
  return LINK_COMMAND_NAMES.some((name) => commands[name] !== undefined);
}

function textProblem(name: LinkCommandName, template: string): Problem | null {
  for (const [, value = ''] of template.matchAll(PLACEHOLDER)) {
    if (!(TEMPLATE_VALUES as readonly string[]).includes(value)) {
      return problem(`commands.${name}`, `may ask for {${TEMPLATE_VALUES.join('}, {')}}, got "{${value}}"`);
    }
    if ((value === 'throttleFraction') !== (name === 'throttle') && value.endsWith('Fraction'))
      return misplaced(name, value);
  }
  return null;
}

function bytesProblem(name: LinkCommandName, { hex, values }: BinaryTemplate): Problem | null {
  const lengthBytes = bytesOfHex(hex).length;
  for (const [index, { value, offset, type, scale }] of values.entries()) {
    const at = `commands.${name}.values[${index}]`;
    if ((value === 'throttleFraction') !== (name === 'throttle')) return misplaced(name, value);
    const endsAt = offset + BINARY_WIDTHS[type];
    if (endsAt > lengthBytes) {
      const rule = `must leave room for ${type} in hex, which must have ${endsAt} bytes for it and has ${lengthBytes}`;
      return problem(`${at}.offset`, `${rule}, got ${offset}`);
    }
    if (!Number.isFinite(scale) || !fits(scale, type)) {
      return problem(`${at}.scale`, `must be a number that ${type} can hold, got ${scale}`);
    }
  }
  return null;
}

/** A lever is no share of power: each has a command of its own. */
function misplaced(name: LinkCommandName, value: string): Problem {
  const right = name === 'throttle' ? 'throttleFraction' : 'powerFraction';
  return problem(`commands.${name}`, `may ask for ${right}, got "${value}"`);
}

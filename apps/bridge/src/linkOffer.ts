// What a bridge tells the server of a link: what it can do, and what a person must know before the exercise.
import type { BridgeHello, LinkCommands } from '@stillprop/contracts';
import { CHANNEL_LABELS, type FlownTogether, linkCommands, linkCoverage } from '@stillprop/links';

export function linkOffer(profiles: FlownTogether): BridgeHello['links'][number] {
  const [lead] = profiles;
  const { covered, missing } = linkCoverage(profiles);
  const notes = [
    ...failureNotes(lead.commands),
    ...covered.flatMap(({ channel, note }) =>
      note === null ? [] : [`${capitalised(CHANNEL_LABELS[channel])}: ${note}`],
    ),
    ...missing.map(({ channel, lost }) => `Not sent: ${CHANNEL_LABELS[channel]}. ${lost}`),
  ];
  return {
    id: lead.id,
    name: lead.name,
    description: lead.description,
    commands: linkCommands(lead),
    pilots: lead.pilots ?? [],
    missing: missing.map(({ channel }) => channel),
    ...(lead.commands?.noFailureCommand !== undefined && !hasFailureCommand(lead.commands)
      ? { failureMeans: lead.commands.noFailureCommand }
      : {}),
    ...(notes.length > 0 ? { notes } : {}),
  };
}

const capitalised = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

function hasFailureCommand(commands: LinkCommands | undefined): boolean {
  return commands?.fail !== undefined || commands?.setPower !== undefined;
}

function failureNotes(commands: LinkCommands | undefined): string[] {
  if (hasFailureCommand(commands)) return [];
  switch (commands?.noFailureCommand) {
    case 'cut-throttle':
      return ['This simulator has no command for failures: the throttle is closed by command instead.'];
    case 'by-hand':
      return ['This simulator has no command for failures: the instructor closes the throttle when told here.'];
    default:
      return ['This link has no way to fail the engine: only scenarios without a failure can be armed.'];
  }
}

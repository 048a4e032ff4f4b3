// Holds a coverage table against messages: it must name just the channels that they fill.
import { SAMPLE_CHANNELS } from '@stillprop/contracts';
import type { StandardCoverage } from './standardCoverage.js';
import type { StandardMessage } from './standards.js';

export interface ChannelSources {
  readonly channel: string;
  readonly kinds: readonly string[];
}

/** Which kinds of messages fill each channel, as these messages show it; kinds in alphabetical order. */
export function sourcesShown(messages: readonly StandardMessage[]): ChannelSources[] {
  return SAMPLE_CHANNELS.map((channel) => {
    const filling = messages.filter((message) =>
      channel === 'timeS' ? message.time !== undefined : message.channels[channel] !== undefined,
    );
    return { channel, kinds: [...new Set(filling.map(({ kind }) => kind))].sort() };
  });
}

/** The same, as the table says it. */
export function sourcesClaimed(coverage: StandardCoverage): ChannelSources[] {
  return SAMPLE_CHANNELS.map((channel) => {
    const entry = coverage[channel];
    return { channel, kinds: entry.given === 'no' ? [] : [...entry.from].sort() };
  });
}

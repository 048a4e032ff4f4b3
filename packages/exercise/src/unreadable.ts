// Values that are no numbers: the decoders refuse them, and the exercise does not rely on that.
import { REQUIRED_CHANNELS, SAMPLE_CHANNELS, type Sample } from '@stillprop/contracts';
import type { Fault } from './states.js';

/** The sample without channels that hold no number; null where a required channel does. */
export function readable(sample: Sample): { readonly sample: Sample | null; readonly fault: Fault | null } {
  const bad: (keyof Sample)[] = [];
  for (const channel of SAMPLE_CHANNELS) {
    const value = sample[channel];
    if (typeof value === 'number' && !Number.isFinite(value)) bad.push(channel);
  }
  const [first] = bad;
  if (first === undefined) return { sample, fault: null };
  const dropped = bad.some((channel) => REQUIRED_CHANNELS.includes(channel));
  const what = dropped ? 'the sample was left out' : 'the channel was left out';
  const text = `${bad.map((channel) => `"${channel}"`).join(', ')} was not a number (${sample[first]}): ${what}.`;
  const fault: Fault = { name: 'unreadable', text, figures: { channels: bad.length } };
  if (dropped) return { sample: null, fault };
  const rest = Object.entries(sample).filter(([channel]) => !bad.includes(channel as keyof Sample));
  return { sample: Object.fromEntries(rest) as unknown as Sample, fault };
}

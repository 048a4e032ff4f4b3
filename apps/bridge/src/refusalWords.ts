// Why messages are refused, in words for the page and the terminal: what is wrong, and where to look.
import type { DecodeCode } from '@stillprop/links';
import type { TransportRefusal } from './transports/transport.js';

/** `lacking`: no link of several gave a channel that a sample needs, or not lately. */
export type RefusalCode = DecodeCode | TransportRefusal | 'lacking' | 'other-sender';

/** @param about The channel, the sender's address, or what the sender named, if one is to blame. */
export function refusalWords(code: RefusalCode, about?: string): string {
  const channel = `channel ${about ?? 'of the sample'}`;
  switch (code) {
    case 'empty':
      return 'the message is empty';
    case 'not-text':
      return 'the message is no UTF-8 text';
    case 'not-json':
      return 'a line is no JSON object, which the link profile asks for';
    case 'no-header':
      return 'no line with the names of the columns has come yet: check the slots of the link profile';
    case 'no-sample':
      return 'no line in it is one that the link profile reads: check its prefix';
    case 'damaged':
      return 'it is broken off, or its check sum does not fit';
    case 'kept':
      return 'it tells only a part, which is kept for the samples to come';
    case 'missing-channel':
      return `${channel} is missing: check its slot in the link profile`;
    case 'not-derived':
      return `${channel} cannot be calculated yet: it takes some seconds of data, and for a direction a moving aeroplane`;
    case 'not-a-number':
      return `${channel} is no number: check its slot in the link profile`;
    case 'out-of-range':
      return `${channel} is out of range: check its unit and slot in the link profile`;
    case 'sender-not-allowed':
      return `it comes from ${about ?? 'a sender'}, which is not among the allowedSenders of the link profile`;
    case 'too-large':
      return 'it is larger than 16 KiB';
    case 'line-too-long':
      return 'a line is longer than longestLineBytes of the link profile';
    case 'too-many-connections':
      return `${about ?? 'a sender'} connects once more, and there are as many connections as one link takes`;
    case 'origin-not-allowed':
      return `the web page ${about ?? ''} is not among the allowedOrigins of the link profile`;
    case 'wrong-path':
      return `it asks for ${about ?? 'another path'}, which is not the path of the link profile`;
    case 'other-sender':
      return `it comes from ${about ?? 'another computer'} while the link follows another: give each simulator a port of its own`;
    case 'lacking':
      return `${channel} is missing or too old: see whether the link that supplies it receives anything`;
  }
}

// Why datagrams are refused, in words for the page and the terminal: what is wrong, and where to look.
import type { DecodeCode } from '@stillprop/links';
import type { SourceRefusal } from './udpSource.js';

/** @param about The channel, or the sender's address, if one is to blame. */
export function refusalWords(code: DecodeCode | SourceRefusal, about?: string): string {
  const channel = `channel ${about ?? 'of the sample'}`;
  switch (code) {
    case 'empty':
      return 'the datagram is empty';
    case 'not-text':
      return 'the datagram is no UTF-8 text';
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
  }
}

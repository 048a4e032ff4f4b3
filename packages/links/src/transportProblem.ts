// What in the transport of a profile cannot work, although each field by itself is well formed.
import type { LinkProfile, Problem } from '@stillprop/contracts';
import { problem } from './problemAt.js';
import { kindOf } from './readers.js';

const ANY_ADDRESS: ReadonlySet<string> = new Set(['0.0.0.0', '::']);

/** The first thing in how messages come in that cannot work with this decoder; null: nothing. */
export function transportProblem({ transport, decoder }: LinkProfile): Problem | null {
  switch (transport.kind) {
    case 'udp':
      return multicastProblem(transport);
    case 'tcpClient':
    case 'tcpServer':
      if (kindOf(decoder)?.isText === false) {
        return problem(
          'transport.kind',
          `must not be "${transport.kind}" with a decoder of bytes: TCP is read in lines`,
        );
      }
      if (decoder.kind === 'keyValue' && decoder.samplePer === 'message') {
        return problem('decoder.samplePer', 'must be "line" over TCP, where each line is a message, got "message"');
      }
      return null;
    default:
      return null;
  }
}

function multicastProblem({
  listenHost,
  multicastGroup,
  multicastInterface,
}: Extract<LinkProfile['transport'], { kind: 'udp' }>): Problem | null {
  if (multicastGroup === undefined) {
    if (multicastInterface === undefined) return null;
    return problem('transport.multicastInterface', 'must be left out without a multicastGroup to join');
  }
  if (!isMulticast(multicastGroup)) {
    const rule = 'must be 224.0.0.0 to 239.255.255.255, or begin with ff (IPv6)';
    return problem('transport.multicastGroup', `${rule}, got "${multicastGroup}"`);
  }
  if (ANY_ADDRESS.has(listenHost)) return null;
  return problem('transport.listenHost', `must be 0.0.0.0 (or ::) with a multicastGroup, got "${listenHost}"`);
}

/** By the ranges that RFC 5771 and RFC 4291 set aside. */
function isMulticast(address: string): boolean {
  if (address.includes(':')) return /^ff/i.test(address);
  const first = Number(address.split('.')[0]);
  return first >= 224 && first <= 239;
}

// The way of commands back to a simulator: to the address its profile names, else over the connection it speaks on.
import { createSocket } from 'node:dgram';
import { isIPv6 } from 'node:net';
import type { LinkProfile } from '@stillprop/contracts';
import { addressOf } from './transports/addresses.js';
import type { MessageKind, Transport } from './transports/transport.js';

export interface CommandWay {
  /** @throws {Error} If there is no way to the simulator now; a failure on the way goes to `onError`. */
  send(bytes: Uint8Array, kind: MessageKind): void;
  close(): Promise<void>;
}

/**
 * @param onError What went wrong on the way, in words that follow the link's name.
 * @throws {Error} If the host of the commands is not found, with words that follow the link's name.
 */
export async function openCommandWay(
  { commands }: LinkProfile,
  transport: Transport,
  onError: (message: string) => void,
): Promise<CommandWay> {
  const port = commands?.port;
  if (commands === undefined || port === undefined) {
    return { send: (bytes, kind) => transport.send(bytes, kind), close: async () => undefined };
  }
  const address = await addressOf(commands.host).catch((error: Error) => {
    throw new Error(`cannot find ${commands.host}: correct commands.host in the link file`, { cause: error });
  });
  const { sendTo } = transport;
  if (sendTo !== undefined) return { send: (bytes) => sendTo(bytes, address, port), close: async () => undefined };
  const socket = createSocket(isIPv6(address) ? 'udp6' : 'udp4');
  socket.on('error', (error) => onError(`cannot send commands: ${error.message}`));
  let open = true;
  return {
    send: (bytes) => {
      if (!open) return;
      socket.send(bytes, port, address, (error) => {
        if (error !== null) onError(`cannot send to ${address} port ${port}: ${error.message}`);
      });
    },
    close: () => {
      if (!open) return Promise.resolve();
      open = false;
      return new Promise((resolve) => socket.close(resolve));
    },
  };
}

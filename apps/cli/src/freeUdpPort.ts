// A UDP port that was free a moment ago, for programs that must agree on one before either is up.
import { createSocket } from 'node:dgram';

export function freeUdpPort(): Promise<number> {
  const socket = createSocket('udp4');
  return new Promise((resolve, reject) => {
    socket.once('error', reject);
    socket.bind(0, '127.0.0.1', () => {
      const { port } = socket.address();
      socket.close(() => resolve(port));
    });
  });
}

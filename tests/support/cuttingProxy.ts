// A TCP proxy on loopback that cuts its connections: after a drawn number of bytes on the way up or on the way back, and
// those that are too quiet for that after a time.
import { connect, createServer, type Socket } from 'node:net';

export interface CuttingProxy {
  readonly port: number;
  /** Connections cut so far: on the way up (the request is not whole), on the way back (its answer is lost), in silence. */
  readonly cuts: { up: number; back: number; quiet: number };
  close(): Promise<void>;
}

/** Where one connection is cut: behind so many bytes of one direction, or after a time if fewer came. */
export interface Cut {
  readonly afterMs: number;
  readonly way: 'up' | 'back';
  readonly afterBytes: number;
}

/** @param nextCut Asked once for each connection; null: it is left alone. */
export async function cuttingProxy(targetPort: number, nextCut: () => Cut | null): Promise<CuttingProxy> {
  const sockets = new Set<Socket>();
  const cuts = { up: 0, back: 0, quiet: 0 };
  const server = createServer((near) => {
    const far = connect(targetPort, '127.0.0.1');
    const cut = nextCut();
    const ends = [near, far];
    const end = () => {
      for (const socket of ends) socket.destroy();
    };
    const quiet =
      cut === null
        ? undefined
        : setTimeout(() => {
            cuts.quiet += 1;
            end();
          }, cut.afterMs);
    for (const socket of ends) {
      sockets.add(socket);
      socket.on('error', end);
      socket.on('close', () => {
        clearTimeout(quiet);
        sockets.delete(socket);
        end();
      });
    }
    const pass = (from: Socket, to: Socket, way: Cut['way']) => {
      let left = cut?.way === way ? cut.afterBytes : Number.POSITIVE_INFINITY;
      from.on('data', (bytes) => {
        if (near.destroyed) return;
        if (bytes.length <= left) {
          left -= bytes.length;
          to.write(bytes);
          return;
        }
        cuts[way] += 1;
        clearTimeout(quiet);
        // What had room still goes, so that the other side sees a message that breaks off.
        to.write(bytes.subarray(0, left), end);
        left = 0;
        from.destroy();
      });
    };
    pass(near, far, 'up');
    pass(far, near, 'back');
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    port: (server.address() as { port: number }).port,
    cuts,
    close: () => {
      for (const socket of sockets) socket.destroy();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}

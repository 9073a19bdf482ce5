import { once } from 'node:events';
import { connect, createServer, type AddressInfo, type NetConnectOpts, type Socket } from 'node:net';

export interface CuttableProxy {
  /** The database's URL through it. */
  url: string;
  /** Breaks every connection and takes no more. */
  cut: () => Promise<void>;
  mend: () => Promise<void>;
}

/** A wire to a PostgreSQL server that can be cut: to a program behind it the server is then gone. */
export async function cuttableProxy(databaseUrl: string): Promise<CuttableProxy> {
  const target = new URL(databaseUrl);
  const directory = target.searchParams.get('host');
  const to: NetConnectOpts =
    directory === null
      ? { host: target.hostname, port: Number(target.port === '' ? 5432 : target.port) }
      : { path: `${directory}/.s.PGSQL.5432` };
  const open = new Set<Socket>();
  const server = createServer((near) => {
    const far = connect(to);
    for (const [one, other] of [
      [near, far],
      [far, near],
    ] as const) {
      open.add(one);
      one.on('error', () => other.destroy());
      one.on('close', () => {
        open.delete(one);
        other.destroy();
      });
    }
    near.pipe(far).pipe(near);
  });
  const listen = async (port: number): Promise<void> => {
    server.listen(port, '127.0.0.1');
    await once(server, 'listening');
  };
  await listen(0);
  const { port } = server.address() as AddressInfo;
  target.search = '';
  target.host = `127.0.0.1:${port}`;
  return {
    url: target.href,
    cut: async () => {
      const closed = once(server, 'close');
      server.close();
      for (const socket of open) socket.destroy();
      await closed;
    },
    mend: () => listen(port),
  };
}

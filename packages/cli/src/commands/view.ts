import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { InputError } from '@barwright/geometry';
import type { Io } from '../io.ts';
import { printDocument } from '../output/print-document.ts';
import { findBench } from '../serve/find-bench.ts';
import { createListener } from '../serve/listener.ts';
import { listShared } from '../serve/shared-files.ts';

export const VIEW_SCHEMA = 'barwright/view/1';

export interface ViewFlags {
  readonly port: number;
}

/** `barwright view`: serves the bench on this machine until the person ends it. */
export async function view(names: readonly string[], { port }: ViewFlags, io: Io): Promise<0> {
  const bench = await findBench();
  const files = await listShared(io.folder, names);
  const server = createServer(createListener(bench, files));
  const at = await listen(server, port);
  const url = `http://127.0.0.1:${at}/${files.length > 0 ? '?files' : ''}`;
  printDocument({ schema: VIEW_SCHEMA, url, files: files.map(({ name, url: path }) => ({ name, url: path })) }, io);
  io.stderr(`The bench is at ${url}\nOnly this machine can reach it. End with Ctrl-C.\n`);
  await io.stopped();
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  return 0;
}

function listen(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) =>
      reject(
        new InputError({
          code: 'usage',
          field: '--port',
          got: `${port} (${error.code})`,
          expected: 'a port that is free',
          remedy: 'Choose another, or leave it out',
        }),
      ),
    );
    server.listen(port, '127.0.0.1', () => resolve((server.address() as AddressInfo).port));
  });
}

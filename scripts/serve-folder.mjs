// A small static server for the built bench: one folder, this computer only.
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize, sep } from 'node:path';

const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
};

/** The file a request means, or null where it would leave the folder. */
export function fileFor(root, address) {
  let path;
  try {
    path = decodeURIComponent(new URL(address, 'http://localhost').pathname);
  } catch {
    return null;
  }
  if (path.includes('\0')) return null;
  const file = normalize(join(root, path.endsWith('/') ? `${path}index.html` : path));
  return file.startsWith(root + sep) ? file : null;
}

/** Serves a folder on the wanted port, or the next free one, on 127.0.0.1. Resolves to the server and its address. */
export async function serveFolder(root, wantedPort = 4173) {
  const server = createServer(async (request, response) => {
    const refuse = (status, words) => {
      response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8' });
      response.end(words);
    };
    if (request.method !== 'GET' && request.method !== 'HEAD') return refuse(405, 'Only reading is possible here.');
    const file = fileFor(root, request.url ?? '/');
    const found = file === null ? null : await stat(file).catch(() => null);
    if (!found?.isFile()) return refuse(404, 'There is no such file in the bench.');
    response.writeHead(200, {
      'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
      'content-length': found.size,
      'cache-control': 'no-cache',
      'x-content-type-options': 'nosniff',
    });
    if (request.method === 'HEAD') return response.end();
    createReadStream(file).pipe(response);
  });
  for (let port = wantedPort; ; port++) {
    try {
      await listen(server, port);
      return { server, url: `http://127.0.0.1:${port}/` };
    } catch (error) {
      if (error.code !== 'EADDRINUSE' || port > wantedPort + 100) throw error;
    }
  }
}

function listen(server, port) {
  return new Promise((done, fail) => {
    server.once('error', fail);
    server.listen(port, '127.0.0.1', () => {
      server.off('error', fail);
      done();
    });
  });
}

import { readFile } from 'node:fs/promises';
import type { IncomingMessage, RequestListener, ServerResponse } from 'node:http';
import { extname, join, sep } from 'node:path';
import type { SharedFile } from './shared-files.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
};

/** Kept to this machine and to this page; the isolation headers let workers share memory. */
const HEADERS: Readonly<Record<string, string>> = {
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
  'cross-origin-resource-policy': 'same-origin',
  'cache-control': 'no-cache',
};

/** Serves the bench's folder and the shared files, to requests that name this machine as their host. */
export function createListener(bench: string, files: readonly SharedFile[]): RequestListener {
  return (request, response) => {
    answer(request, response, bench, files).catch(() => send(response, 500, 'text/plain', 'internal'));
  };
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  bench: string,
  files: readonly SharedFile[],
): Promise<void> {
  const plain = (code: number, text: string): void => send(response, code, 'text/plain; charset=utf-8', text);
  // A page of another site must not reach the files through a name that it points at this machine.
  if (!/^(127\.0\.0\.1|localhost)(:\d+)?$/.test(request.headers.host ?? '')) return plain(403, 'wrong host');
  if (request.method !== 'GET' && request.method !== 'HEAD') return plain(405, 'only GET');
  const path = (request.url ?? '/').replace(/[?#].*$/, '');
  if (path === '/files/index.json') {
    const list = files.map(({ name, url }) => ({ name, url }));
    return send(response, 200, TYPES['.json']!, JSON.stringify(list));
  }
  const file = path.startsWith('/files/') ? files.find(({ url }) => url === path)?.path : insideBench(bench, path);
  const bytes = file === undefined ? null : await readFile(file).catch(() => null);
  if (bytes === null) return plain(404, 'not found');
  send(response, 200, TYPES[extname(file!).toLowerCase()] ?? 'application/octet-stream', bytes);
}

/** A file of the bench by its path, or undefined for anything that would lead out of its folder. */
function insideBench(bench: string, path: string): string | undefined {
  let decoded: string;
  try {
    decoded = decodeURIComponent(path);
  } catch {
    return undefined;
  }
  if (/[\\\0]/.test(decoded) || decoded.split('/').some((part) => part.startsWith('.'))) return undefined;
  const file = join(bench, decoded.endsWith('/') ? `${decoded}index.html` : decoded);
  return file.startsWith(bench.endsWith(sep) ? bench : bench + sep) ? file : undefined;
}

function send(response: ServerResponse, code: number, type: string, body: string | Uint8Array): void {
  response.writeHead(code, { ...HEADERS, 'content-type': type, 'content-length': Buffer.byteLength(body) });
  response.end(response.req.method === 'HEAD' ? undefined : body);
}

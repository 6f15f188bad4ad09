// A static host like any other: it shows the built page under a sub-path and nothing above it.

import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize } from 'node:path';

const TYPES = {
  '.css': 'text/css; charset=utf-8',
  '.csv': 'text/csv; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.mjs': 'text/javascript; charset=utf-8',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
};

/**
 * Serves the folder on 127.0.0.1 at a free port.
 *
 * `under` is the path the page is hosted at; `wasmType` is what the host says a wasm file is
 * (some say 'application/octet-stream'); `headers` go with every answer.
 *
 * Gives `url`, `asked` (the paths asked for so far, relative to `under`, in order) and `close()`.
 */
export async function serve(folder, { under = '/a/b/', wasmType = TYPES['.wasm'], headers = {} } = {}) {
  const asked = [];
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(request.url, 'http://host').pathname);
    const inside = path.startsWith(under) ? path.slice(under.length) : null;
    asked.push(inside ?? path);
    const name = normalize(inside === '' ? 'index.html' : (inside ?? ''));
    try {
      if (inside === null || name.startsWith('..')) throw new Error('outside');
      const body = await readFile(join(folder, name));
      const type = extname(name) === '.wasm' ? wasmType : TYPES[extname(name)];
      response.writeHead(200, { 'Content-Type': type ?? 'application/octet-stream', ...headers });
      response.end(body);
    } catch {
      response.writeHead(404, { 'Content-Type': 'text/plain' });
      response.end('There is no such file.\n');
    }
  });
  await new Promise((ready) => server.listen(0, '127.0.0.1', ready));
  const close = () =>
    new Promise((closed) => {
      server.close(closed);
      server.closeAllConnections();
    });
  return { url: `http://127.0.0.1:${server.address().port}${under}`, asked, close };
}

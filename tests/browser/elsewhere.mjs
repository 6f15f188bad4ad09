// Another host, with an origin of its own: it gives what it was given, to every page or to none.

import { createServer } from 'node:http';

/**
 * `files`: path → text, or a function that answers the response itself.
 *
 * Gives `url` (ends with “/”), `host`, `asked` (paths and what came with them) and `close()`.
 */
export async function elsewhere(files, { allows = true } = {}) {
  const asked = [];
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url, 'http://host').pathname).slice(1);
    asked.push({ path, cookie: request.headers.cookie, referer: request.headers.referer });
    const cors = allows ? { 'Access-Control-Allow-Origin': '*' } : {};
    const file = files[path];
    if (typeof file === 'function') {
      file(response, cors);
      return;
    }
    response.writeHead(file === undefined ? 404 : 200, { 'Content-Type': 'application/json', ...cors });
    response.end(file ?? '{}');
  });
  await new Promise((ready) => server.listen(0, '127.0.0.1', ready));
  const { port } = server.address();
  const close = () =>
    new Promise((closed) => {
      server.close(closed);
      server.closeAllConnections();
    });
  return { url: `http://127.0.0.1:${port}/`, host: `127.0.0.1:${port}`, asked, close };
}

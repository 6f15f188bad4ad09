// The page opens on any static host, and a first visit asks for no more than it may.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { dist, laterNames, launch, listenForErrors } from './browser.mjs';
import { serve } from './serve.mjs';

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser?.close());

/** Opens the page as a new visitor and waits until the app has put something on it. */
async function open(host) {
  const context = await browser.newContext();
  const page = await context.newPage();
  const errors = listenForErrors(page);
  await page.goto(host.url);
  await page.waitForFunction(() => document.body.innerText.trim() !== '');
  await page.waitForLoadState('networkidle');
  return { context, page, errors };
}

for (const [host, options] of [
  ['at the top of a host', { under: '/' }],
  ['under a sub-path', { under: '/a/b/' }],
  ['on a host that does not know wasm', { wasmType: 'application/octet-stream' }],
]) {
  test(`the page opens without an error ${host}`, async () => {
    const server = await serve(dist, options);
    try {
      const { context, page, errors } = await open(server);
      assert.deepEqual(errors, []);
      assert.match(await page.title(), /Whorl/);
      await context.close();
    } finally {
      await server.close();
    }
  });
}

test('a first visit asks only for files that count as a first visit', async () => {
  const server = await serve(dist);
  try {
    const { context } = await open(server);
    assert.ok(server.asked.some((path) => path.endsWith('.wasm')), 'the app itself was asked for');
    const early = server.asked.filter((path) => laterNames.some((start) => path.startsWith(start)));
    assert.deepEqual(early, []);
    await context.close();
  } finally {
    await server.close();
  }
});

test('the page talks to no other host', async () => {
  const server = await serve(dist);
  try {
    const context = await browser.newContext();
    const page = await context.newPage();
    const elsewhere = [];
    page.on('request', (request) => {
      const url = new URL(request.url());
      if (url.protocol.startsWith('http') && url.origin !== new URL(server.url).origin) elsewhere.push(request.url());
    });
    await page.goto(server.url);
    await page.waitForLoadState('networkidle');
    assert.deepEqual(elsewhere, []);
    await context.close();
  } finally {
    await server.close();
  }
});

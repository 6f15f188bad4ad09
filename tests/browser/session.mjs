// One browser and one host of the built page for all tests of a file, and a page of its own for each test.

import assert from 'node:assert/strict';
import { after, before } from 'node:test';

import { dist, launch } from './browser.mjs';
import { visit } from './lab-page.mjs';
import { serve } from './serve.mjs';

/** There while the tests of a file run. */
export let browser, host;

before(async () => {
  browser = await launch();
  host = await serve(dist);
});
after(async () => {
  await browser?.close();
  await host?.close();
});

/** Opens the page, works on it, and sees that it had no errors. */
export async function during(run, options) {
  const { page, context, errors } = await visit(browser, host, options);
  try {
    await run(page);
    assert.deepEqual(errors, []);
  } finally {
    await context.close();
  }
}

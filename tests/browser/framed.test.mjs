// The page in another site's frame, with and without an origin of its own.

import assert from 'node:assert/strict';
import { createServer } from 'node:http';
import { test } from 'node:test';

import { dist } from './browser.mjs';
import { gateTimes } from './class-files.mjs';
import { addRuns, openExample, ready, stationState, station } from './lab-page.mjs';
import { serve } from './serve.mjs';
import { browser } from './session.mjs';

/** A course page on another origin that frames an address. */
async function coursePage(address, sandbox) {
  const attribute = sandbox === undefined ? '' : ` sandbox="${sandbox}"`;
  const body = `<!doctype html><title>Course</title><h1>Week 7</h1><iframe src="${address}" title="Whorl" width="100%" height="900"${attribute}></iframe>`;
  const server = createServer((_, response) => {
    response.writeHead(200, { 'Content-Type': 'text/html; charset=utf-8' });
    response.end(body);
  });
  await new Promise((up) => server.listen(0, '127.0.0.1', up));
  return { url: `http://localhost:${server.address().port}/`, close: () => new Promise((down) => { server.close(down); server.closeAllConnections(); }) };
}

for (const [what, sandbox] of [
  ['in a frame of another site', undefined],
  ['in a sandbox that leaves it its origin', 'allow-scripts allow-same-origin allow-downloads allow-forms allow-modals allow-popups'],
  ['in a sandbox without an origin', 'allow-scripts allow-downloads allow-forms allow-modals'],
]) {
  test(`the page works ${what}`, async () => {
    const host = await serve(dist, { headers: { 'Access-Control-Allow-Origin': '*' } });
    const course = await coursePage(host.url, sandbox);
    const context = await browser.newContext();
    const outer = await context.newPage();
    const errors = [];
    outer.on('pageerror', (error) => errors.push(error.message));
    await outer.goto(course.url);
    const frame = outer.frames()[1];
    // What the helpers ask of a page, a frame has too.
    await ready(frame);
    await openExample(frame);
    await addRuns(frame, gateTimes());
    await stationState(frame, 'Runs', '24 runs').waitFor();
    await station(frame, 'Apparatus').getByLabel('drum radius R', { exact: true }).fill('25.02');
    if (sandbox !== undefined && !sandbox.includes('allow-same-origin')) {
      await frame.getByText('This browser keeps nothing for this page').waitFor();
    } else {
      await frame.getByText('kept in this browser, not saved as a file yet').waitFor();
    }
    const [download] = await Promise.all([outer.waitForEvent('download'), frame.getByRole('button', { name: 'Save lab', exact: true }).click()]);
    assert.match(download.suggestedFilename(), /\.json$/);
    assert.deepEqual(errors, []);
    await context.close();
    await course.close();
    await host.close();
  });
}

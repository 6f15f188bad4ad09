// The page in another site's frame, with and without an origin of its own.

import assert from 'node:assert/strict';
import { createServer } from 'node:http';
import { test } from 'node:test';

import { dist } from './browser.mjs';
import { gateTimes } from './class-files.mjs';
import { addRuns, openExample, ready, stationState, station } from './lab-page.mjs';
import { serve } from './serve.mjs';
import { browser } from './session.mjs';

/**
 * A course page on another origin that frames an address; of another site too where its `name` is not the page's
 * 127.0.0.1. A window of the tests is a private one, in which the browser refuses frames of other sites all storage.
 */
async function coursePage(address, sandbox, name = 'localhost') {
  const attribute = sandbox === undefined ? '' : ` sandbox="${sandbox}"`;
  const body = `<!doctype html><title>Course</title><h1>Week 7</h1><iframe src="${address}" title="Whorl" width="100%" height="900"${attribute}></iframe>`;
  const server = createServer((_, response) => {
    response.writeHead(200, { 'Content-Type': 'text/html; charset=utf-8' });
    response.end(body);
  });
  await new Promise((up) => server.listen(0, '127.0.0.1', up));
  return { url: `http://${name}:${server.address().port}/`, close: () => new Promise((down) => { server.close(down); server.closeAllConnections(); }) };
}

const WITH_ORIGIN = 'allow-scripts allow-same-origin allow-downloads allow-forms allow-modals allow-popups';

for (const [what, sandbox, name, keeps] of [
  ['in a frame of another origin', undefined, '127.0.0.1', true],
  ['in a frame of another site, where storage is refused', undefined, 'localhost', false],
  ['in a sandbox that leaves it its origin', WITH_ORIGIN, '127.0.0.1', true],
  ['in a sandbox without an origin', 'allow-scripts allow-downloads allow-forms allow-modals', 'localhost', false],
]) {
  test(`the page works ${what}`, async (t) => {
    const host = await serve(dist, { headers: { 'Access-Control-Allow-Origin': '*' } });
    const course = await coursePage(host.url, sandbox, name);
    const context = await browser.newContext();
    t.after(() => Promise.all([context, course, host].map((one) => one.close())));
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
    await frame.getByText(keeps ? 'kept in this browser, not saved as a file yet' : 'This browser keeps nothing for this page').waitFor();
    const [download] = await Promise.all([outer.waitForEvent('download'), frame.getByRole('button', { name: 'Save lab', exact: true }).click()]);
    assert.match(download.suggestedFilename(), /\.json$/);
    assert.deepEqual(errors, []);
  });
}

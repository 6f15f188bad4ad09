// Parts of the program come when they are wanted: each once, none before, and a failure is mended by trying again.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { dist, laterNames } from './browser.mjs';
import { chooseFiles, openExample, ready, station, stationState, trayRead, visit } from './lab-page.mjs';
import { begin, prelab } from './prelab-page.mjs';
import { serve } from './serve.mjs';
import { browser, during } from './session.mjs';

const CSV = { name: 'empty-60g.csv', mimeType: 'text/csv', buffer: Buffer.from('time (s),position (m)\n0,0\n0.1,0.01\n0.2,0.04\n') };

/** Runs with a host of its own; gives it the page and what was asked for so far. */
async function withHost(run) {
  const host = await serve(dist);
  const { page, context, errors } = await visit(browser, host);
  await page.waitForLoadState('networkidle');
  const part = (name) => host.asked.filter((path) => path.startsWith(`parts/${name}`));
  try {
    await run(page, { host, part, errors });
  } finally {
    await context.close();
    await host.close();
  }
}

test('a first visit loads none of what comes later, and keeping the example lab only what keeps it', () =>
  withHost(async (page, { host, errors }) => {
    const later = () => host.asked.filter((path) => laterNames.some((start) => path.startsWith(start)));
    // In the background only what keeps the page's files for use without a network; here the browser lets it not go on.
    const background = 'offline-start.js';
    await page.waitForTimeout(1500);
    assert.deepEqual(later(), [background]);
    await openExample(page);
    await page.waitForTimeout(1500);
    await page.waitForLoadState('networkidle');
    const kinds = later().map((path) => path.replace(/-[0-9a-f]+\.wasm$/, ''));
    assert.deepEqual(kinds.sort(), ['later/kept.css', background, 'parts/kept', 'parts/shared']);
    assert.deepEqual(errors, []);
  }));

test('beginning the pre-lab loads its part, once', () =>
  withHost(async (page, { part, errors }) => {
    await begin(page);
    assert.equal(part('prelab').length, 1);
    await stationState(page, 'Pre-lab', '0 of 15 steps').waitFor();
    await prelab(page).getByRole('button', { name: 'Put this pre-lab away and choose another' }).click();
    await begin(page);
    assert.equal(part('prelab').length, 1);
    assert.deepEqual([part('tray'), part('plan'), part('details')], [[], [], []]);
    assert.deepEqual(errors, []);
  }));

test('every other part comes at the first use of it', () =>
  withHost(async (page, { part, errors }) => {
    await openExample(page);
    await page.getByText('Show the working of this run').click();
    await station(page, 'Acceleration').locator('ol.steps math').first().waitFor();
    await page.getByText('Friction by other routes').first().click();
    await page.getByText('Friction torque by each route').first().waitFor();
    assert.equal(part('details').length, 1);
    await page.getByRole('heading', { name: 'What the runs tell about themselves' }).scrollIntoViewIfNeeded();
    await page.locator('section.findings').getByText('spokes').first().waitFor();
    assert.equal(part('findings').length, 1);
    await page.getByText('Plan which masses to hang').click();
    await station(page, 'Runs').getByLabel('object to plan for').waitFor();
    assert.equal(part('plan').length, 1);
    await chooseFiles(page, CSV);
    await trayRead(page, 1);
    assert.equal(part('tray').length, 1);
    assert.deepEqual(part('prelab'), []);
    assert.deepEqual(errors, []);
  }));

test('a part that does not come is told of, and comes when it is tried again', async () => {
  await during(async (page) => {
    await ready(page);
    await openExample(page);
    // Not the page's own errors: its host is gone.
    page.removeAllListeners('console');
    page.removeAllListeners('requestfailed');
    await page.route('**/parts/**', (route) => route.abort());
    const details = station(page, 'Acceleration').locator('details.working');
    await details.locator('summary').click();
    const alert = details.getByRole('alert');
    await alert.filter({ hasText: 'could not be loaded' }).waitFor();

    await prelab(page).getByRole('button', { name: /^Begin: A turntable/ }).click();
    await prelab(page).getByRole('alert').filter({ hasText: 'could not be loaded' }).waitFor();
    await chooseFiles(page, CSV);
    const tray = page.getByRole('group', { name: 'Add runs from files' });
    await tray.getByRole('alert').filter({ hasText: 'could not be loaded' }).waitFor();
    // The rest of the page works on.
    await page.getByLabel('drum radius R', { exact: true }).fill('26.1');
    await page.getByText(/not saved (yet|as a file yet)$/).waitFor();

    await page.unroute('**/parts/**');
    await details.getByRole('button', { name: 'Try again' }).click();
    await details.locator('ol.steps math').first().waitFor();
    await prelab(page).getByRole('button', { name: 'Try again' }).click();
    await prelab(page).locator('ol.derivation').waitFor();
    await tray.getByRole('button', { name: 'Try again' }).click();
    await trayRead(page, 1);
  });
});
